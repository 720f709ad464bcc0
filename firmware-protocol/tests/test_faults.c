#include "bench.h"
#include "motion.h"

static void pulling(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 1000, 0));
    bench_run(500);
    CHECK(bench.steps > 400);
}

/* The same from a known home. */
static void pulling_from_home(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
    bench.lower_switch = -100;
    CHECK_EQUAL(RESULT_DONE, bench_home(1000));
    bench_run(3000);
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 1000, 0));
    bench_run(500);
    CHECK(motion_homed() && motion_state() == MOTION_MOVING);
}

static void stood_by(uint16_t fault, uint8_t powered)
{
    CHECK_EQUAL(fault, device.faults);
    CHECK_EQUAL(MOTION_STILL, motion_state());
    CHECK_EQUAL(powered, bench.powered);
    uint32_t steps = bench.steps;
    bench_run(200);
    CHECK_EQUAL(steps, bench.steps);
    CHECK_EQUAL(fault, bench_state_at(9));
    CHECK_EQUAL(RESULT_FAULTED, bench_move(MOVE_BY_SPEED, 1000, 0));
}

static void silence_stops_it_in_half_a_second_and_latches(void)
{
    pulling();
    uint32_t last = bench.milliseconds / 100 * 100;
    bench.keep_alive = 0;
    bench_run(600);
    CHECK(bench.last_step_at - last <= 500 && bench.last_step_at - last >= 498);
    CHECK_EQUAL(FAULT_KEEP_ALIVE, device.faults);
    CHECK_EQUAL(0, bench.powered);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_KEEP_ALIVE, device.faults);       /* its cause is not gone */
    bench.keep_alive = 1;
    bench_run(200);
    stood_by(FAULT_KEEP_ALIVE, 0);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(0, device.faults);
}

static void the_same_counter_twice_is_no_life(void)
{
    pulling();
    bench.keep_alive = 0;
    for (int i = 0; i < 12; i++) {
        uint8_t p[7] = { MSG_KEEP_ALIVE };
        put16(put32(p + 1, BENCH_BOOT), bench.counter);
        bench_send(p, sizeof p);
        put16(put32(p + 1, BENCH_BOOT + 1), (uint16_t)(bench.counter + 1 + i));   /* another start's */
        bench_send(p, sizeof p);
        bench_run(50);
    }
    CHECK_EQUAL(FAULT_KEEP_ALIVE, device.faults);
}

static void silence_at_standstill_takes_the_power_without_a_fault(void)
{
    pulling();
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    bench_run(10);
    CHECK_EQUAL(1, bench.powered);
    bench.keep_alive = 0;
    bench_run(600);
    CHECK_EQUAL(0, bench.powered);
    CHECK_EQUAL(0, device.faults);
}

static void an_opened_guard_stops_it(void)
{
    pulling();
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(4);
    stood_by(FAULT_GUARD, 0);
    CHECK_EQUAL(RESULT_DONE, bench_clear(FAULT_GUARD));
    CHECK_EQUAL(FAULT_GUARD, device.faults);
    bench.inputs = BENCH_INPUTS_GOOD;
    bench_run(30);
    CHECK_EQUAL(RESULT_DONE, bench_clear(FAULT_GUARD));
    CHECK_EQUAL(0, device.faults);
    bench_acknowledge_all();
    CHECK_EQUAL(1, bench_events_of(EVENT_GUARD_OPENED));
    CHECK_EQUAL(1, bench_events_of(EVENT_GUARD_CLOSED));
    CHECK_EQUAL(1, bench_events_of(EVENT_FAULT_RAISED));
    CHECK_EQUAL(1, bench_events_of(EVENT_MOTION_ENDED));
}

static void a_spark_on_the_guard_does_not(void)
{
    pulling();
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(1);
    bench.inputs = BENCH_INPUTS_GOOD;
    bench_run(20);
    CHECK_EQUAL(0, device.faults);
}

static void an_opened_guard_at_standstill_is_an_event_only(void)
{
    bench_start();
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(10);
    CHECK_EQUAL(0, device.faults);
    CHECK_EQUAL(INPUT_EMERGENCY_STOP_RELEASED | INPUT_CONVERTER_ALIVE, bench_state_at(5));
}

/* In motion the rotor coasts and snaps to another pole: the position is no longer known. With the guard and with silence it stayed "homed" before. */
static void what_cuts_the_power_in_motion_unhomes(void)
{
    for (int what = 0; what < 6; what++) {
        bench_traits.closed_loop = what == 5;
        pulling_from_home();
        if (what == 0 || what == 5) bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
        if (what == 1) bench.keep_alive = 0;
        if (what == 2) bench.inputs |= INPUT_DRIVER_FAULT;
        if (what == 3) bench.hung = 1;
        if (what == 4) bench.counts = 2000000;             /* the power holds */
        bench_run(600);
        bench.hung = 0;
        bench_run(20);
        CHECK(device.faults);
        CHECK_EQUAL(what == 4 || what == 5, motion_homed());
        CHECK_EQUAL(what == 4, bench.powered);
    }
    bench_traits.closed_loop = 0;
}

/* 60 s powered with the guard open, before: between a hand and a step stood one comparison. */
static void an_open_guard_takes_the_power_at_standstill_too(void)
{
    for (int falls = 0; falls < 2; falls++) {
        bench_traits.screw_needs_power = (uint8_t)falls;
        pulling();
        CHECK_EQUAL(RESULT_DONE, bench_stop(1));
        bench_run(10);
        CHECK_EQUAL(1, bench.powered);
        bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
        bench_run(3);
        CHECK_EQUAL(falls, bench.powered);
        CHECK_EQUAL(0, device.faults);
        bench.inputs = BENCH_INPUTS_GOOD;
        bench_run(30);
        CHECK_EQUAL(falls, bench.powered);                 /* a closed guard alone starts nothing */
        CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 100, 0));
        CHECK_EQUAL(1, bench.powered);
    }
    bench_traits.screw_needs_power = 0;
}

static void the_emergency_stop_latches_at_any_time(void)
{
    pulling_from_home();
    bench.inputs = INPUT_GUARD_CLOSED;
    bench_run(4);
    CHECK_EQUAL(FAULT_EMERGENCY_STOP, device.faults);
    CHECK_EQUAL(0, bench.powered);
    CHECK_EQUAL(0, motion_homed());              /* steps may be lost */
    CHECK_EQUAL(RESULT_EMERGENCY_STOP_PRESSED, bench_move(MOVE_BY_SPEED, 1000, 0));
    bench.inputs = BENCH_INPUTS_GOOD;
    bench_run(30);
    stood_by(FAULT_EMERGENCY_STOP, 0);
    bench_start();
    bench.inputs = INPUT_GUARD_CLOSED;
    bench_run(10);
    CHECK_EQUAL(FAULT_EMERGENCY_STOP, device.faults);
    bench_restart(0);
    CHECK_EQUAL(FAULT_EMERGENCY_STOP, device.faults);
}

static void too_much_force_stops_it_and_leaves_a_way_back(void)
{
    pulling();
    bench.counts_per_step = 1000;              /* the limit lies at 1,000 steps */
    bench_run(2000);
    CHECK_EQUAL(FAULT_FORCE, device.faults);
    CHECK(bench.true_position > 1012 && bench.true_position <= 1025);    /* two intervals of 12 ms at a step a millisecond */
    stood_by(FAULT_FORCE, 1);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(0, device.faults);
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_move(MOVE_BY_SPEED, 100, 0));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_home(100));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -1000, 0));
    bench_run(300);
    CHECK_EQUAL(0, device.faults);
    CHECK(bench.true_position < 900);
}

/* A bit-banged converter's wild reading, either sign, alone: no overload. */
static void one_wild_conversion_stops_no_pull(void)
{
    static const int32_t wild[] = { 8388600, -8388600, 1000002, -50001 };
    pulling();
    for (unsigned i = 0; i < 4; i++) {
        bench.counts = wild[i];
        bench_run(12);
        bench.counts = 84000;
        bench_run(24);
        CHECK_EQUAL(0, device.faults);
        CHECK_EQUAL(MOTION_MOVING, motion_state());
    }
    bench.counts = 8388600;                    /* two in a row are, also of both signs */
    bench_run(12);
    CHECK_EQUAL(0, device.faults);
    bench.counts = -8388600;
    bench_run(12);
    stood_by(FAULT_FORCE, 1);
}

/* What lay beyond limits of before says nothing of those that replaced them: one wild conversion under the new ones is one. */
static void what_was_beyond_other_limits_is_forgotten(void)
{
    bench_start();
    bench.counts = 84000;
    bench.keep_alive = 1;
    CHECK_EQUAL(RESULT_DONE, bench_limits(1, -50000, 80000, -400, 60000));         /* it stands beyond these */
    bench_run(100);
    CHECK_EQUAL(RESULT_DONE, bench_limits(2, -50000, 1000000, -400, 60000));
    CHECK_EQUAL(RESULT_DONE, bench_move(0, 400, 0));
    bench.counts = 1000002;
    bench_run(12);
    bench.counts = 84000;
    bench_run(24);
    CHECK_EQUAL(0, device.faults);
    CHECK_EQUAL(MOTION_MOVING, motion_state());
}

/* On the way back one reading within the limits must not make it forget by which way they were reached. */
static void a_wild_conversion_does_not_turn_the_way_back_round(void)
{
    pulling();
    bench.counts = 1200000;
    bench_run(30);
    CHECK_EQUAL(FAULT_FORCE, device.faults);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -100, 0));
    bench_run(24);
    bench.counts = 0;
    bench_run(12);
    bench.counts = 1200000;
    bench_run(60);
    CHECK_EQUAL(0, device.faults);
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_move(MOVE_BY_SPEED, 100, 0));
}

/* Nor may a host that repeats its move raise the force share by share. */
static void a_replaced_way_back_begins_no_new_one(void)
{
    pulling();
    bench.counts = 1200000;
    bench_run(30);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    for (int i = 0; i < 4; i++) {
        if (bench_move(MOVE_BY_SPEED, -100, 0) != RESULT_DONE) break;
        bench.counts += 20000;                 /* a 32nd of the span is 32,812 */
        bench_run(36);
    }
    CHECK_EQUAL(FAULT_FORCE, device.faults);
    CHECK(bench.counts <= 1240000);
}

static void the_wrong_sign_counts_as_well(void)
{
    pulling();
    bench.counts_per_step = -200;              /* a cell mounted the wrong way round */
    bench_run(200);
    CHECK_EQUAL(FAULT_FORCE, device.faults);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_move(MOVE_BY_SPEED, 100, 0));    /* further the same way */
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -100, 0));
    bench_run(100);
    CHECK_EQUAL(0, device.faults);
}

static void a_way_back_that_makes_it_worse_is_stopped(void)
{
    pulling();
    bench.counts = 1200000;
    bench_run(30);
    CHECK_EQUAL(FAULT_FORCE, device.faults);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -1000, 0));
    bench_run(50);
    bench.counts = 1230000;                    /* within 1/32 of 1,050,000 */
    bench_run(30);
    CHECK_EQUAL(0, device.faults);
    bench.counts = 1240000;
    bench_run(30);
    CHECK_EQUAL(FAULT_FORCE, device.faults);
}

static void the_end_of_travel_stops_it_on_the_step(void)
{
    pulling();
    bench.conversion_every = 12;
    bench_run(40000 - 500);
    CHECK_EQUAL(FAULT_TIME, device.faults);    /* 20 s are over first */
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    bench_run(4000);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
    CHECK_EQUAL(40000, stepper_position());
    CHECK_EQUAL(40000, bench.true_position);
    stood_by(FAULT_TRAVEL, 1);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_move(MOVE_BY_SPEED, 100, 0));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -100, 0));
}

static void a_limit_input_stops_only_what_runs_into_it(void)
{
    pulling();
    bench.inputs |= INPUT_UPPER_LIMIT;
    bench_run(4);
    stood_by(FAULT_TRAVEL, 1);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_move(MOVE_BY_SPEED, 100, 0));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -100, 0));
    bench_run(100);
    CHECK_EQUAL(0, device.faults);
}

static void a_dead_converter_stops_it(void)
{
    pulling();
    bench.conversion_every = 0;
    bench_run(75);                             /* four periods of 12.5 ms and 20 ms, and one */
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    bench_run(100);
    CHECK_EQUAL(0, bench_state_at(5) & INPUT_CONVERTER_ALIVE);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    bench.conversion_every = 12;
    bench_run(12);                             /* one is no proof that it goes on */
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    bench_run(100);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(0, device.faults);
}

static void a_converter_at_its_end_is_a_fault_one_spark_is_not(void)
{
    bench_start();
    bench.counts = 8388607;
    bench_run(24);
    bench.counts = 84000;
    bench_run(24);
    CHECK_EQUAL(0, device.faults);
    bench.counts = -8388608;
    bench_run(48);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
}

static void a_driver_fault_cuts_the_power(void)
{
    pulling();
    bench.inputs |= INPUT_DRIVER_FAULT;
    bench_run(4);
    stood_by(FAULT_DRIVER, 0);
    CHECK_EQUAL(0, bench_state_at(5) & INPUT_DRIVER_FAULT);
}

void test_faults(void)
{
    RUN(silence_stops_it_in_half_a_second_and_latches);
    RUN(the_same_counter_twice_is_no_life);
    RUN(silence_at_standstill_takes_the_power_without_a_fault);
    RUN(an_opened_guard_stops_it);
    RUN(a_spark_on_the_guard_does_not);
    RUN(an_opened_guard_at_standstill_is_an_event_only);
    RUN(what_cuts_the_power_in_motion_unhomes);
    RUN(an_open_guard_takes_the_power_at_standstill_too);
    RUN(the_emergency_stop_latches_at_any_time);
    RUN(too_much_force_stops_it_and_leaves_a_way_back);
    RUN(one_wild_conversion_stops_no_pull);
    RUN(what_was_beyond_other_limits_is_forgotten);
    RUN(a_wild_conversion_does_not_turn_the_way_back_round);
    RUN(a_replaced_way_back_begins_no_new_one);
    RUN(the_wrong_sign_counts_as_well);
    RUN(a_way_back_that_makes_it_worse_is_stopped);
    RUN(the_end_of_travel_stops_it_on_the_step);
    RUN(a_limit_input_stops_only_what_runs_into_it);
    RUN(a_dead_converter_stops_it);
    RUN(a_converter_at_its_end_is_a_fault_one_spark_is_not);
    RUN(a_driver_fault_cuts_the_power);
}
