#include "bench.h"
#include "motion.h"

/* Inputs, converters, drives and programs that lie: each of these moved on, or did not tell, before it was a test. */

static void pulling(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(500);
    CHECK(bench.steps > 150);
}

/* The input that chatters must neither blind another nor itself. Every pair, on and off at several paces. */
static void one_chattering_input_blinds_no_other(void)
{
    static const struct { uint8_t input, bad; uint16_t fault; } all[] = {
        { INPUT_GUARD_CLOSED, 0, FAULT_GUARD }, { INPUT_EMERGENCY_STOP_RELEASED, 0, FAULT_EMERGENCY_STOP },
        { INPUT_LOWER_LIMIT, INPUT_LOWER_LIMIT, FAULT_TRAVEL }, { INPUT_UPPER_LIMIT, INPUT_UPPER_LIMIT, FAULT_TRAVEL },
        { INPUT_DRIVER_FAULT, INPUT_DRIVER_FAULT, FAULT_DRIVER } };
    static const uint16_t paces[] = { 1, 7, 20, 39 };
    for (unsigned c = 0; c < 5; c++) for (unsigned t = 0; t < 5; t++) for (unsigned p = 0; p < 4; p++) {
        if (c == t) continue;
        pulling();
        bench.chatter = all[c].input;
        bench.chatter_on = 1;                  /* 50 µs of bad in 2 ms: the chatter alone stops it within 80 ms */
        bench.chatter_off = paces[p];
        bench_run(1);
        bench.inputs = (uint8_t)((bench.inputs & ~all[t].input) | all[t].bad);
        uint32_t at = bench.milliseconds;
        bench_run(100);
        CHECK(bench.last_step_at <= at + 3);
        CHECK(device.faults & all[t].fault);
    }
}

static void an_input_that_never_settles_is_bad(void)
{
    static const uint16_t on[] = { 1, 20, 30, 10 }, off[] = { 1, 20, 390, 200 };
    for (unsigned i = 0; i < 4; i++) {
        pulling();
        bench.chatter = INPUT_GUARD_CLOSED;
        bench.chatter_on = on[i];
        bench.chatter_off = off[i];
        uint32_t at = bench.milliseconds, most = (40u / on[i] + 1u) * ((unsigned)on[i] + off[i]) / TICKS_PER_MILLISECOND + 3u;
        bench_run(500);
        CHECK_EQUAL(FAULT_GUARD, device.faults);
        CHECK(bench.last_step_at <= at + most);
        bench_run(200);
        CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
        CHECK_EQUAL(FAULT_GUARD, device.faults);            /* while it chatters its cause is not gone */
        bench.chatter = 0;
        bench_run(30);
        CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
        CHECK_EQUAL(0, device.faults);
    }
}

/* Sparks that lie further apart than the good that makes an input good are forgotten one by one. */
static void sparks_far_apart_stop_nothing(void)
{
    pulling();
    bench.chatter = INPUT_GUARD_CLOSED;
    bench.chatter_on = 10;                     /* 0.5 ms in 25.5 */
    bench.chatter_off = 500;
    bench_run(3000);
    CHECK_EQUAL(0, device.faults);
    CHECK_EQUAL(MOTION_MOVING, motion_state());
}

/* 1,088 N under a limit of 192 N, and no fault, before. */
static void a_data_line_that_sits_low_is_no_stream_of_zeros(void)
{
    pulling();
    bench.counts = 0;
    bench.conversion_every = 0;
    bench.per_tick = 10;                       /* 2,000 a second */
    bench_run(40);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK(bench.last_step_at + 35 <= bench.milliseconds);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK_EQUAL(RESULT_FAULTED, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_start();                             /* from the start */
    bench.conversion_every = 0;
    bench.per_tick = 10;
    bench_run(1500);
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_FAULTED, bench_move(MOVE_BY_SPEED, 400, 0));
}

static void a_reading_that_freezes_is_a_fault(void)
{
    pulling();
    bench.frozen = 1;
    bench_run(12 * 8 + 12);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    bench.frozen = 0;
    bench_run(30);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(0, device.faults);
}

/* Every second reading at the end of the range, for 5 s of a pull, was no fault. */
static int32_t every_second(int32_t counts) { return bench.conversions & 1 ? 8388607 : counts; }
static int32_t every_second_zero(int32_t counts) { return bench.conversions & 1 ? -8388608 : counts + (int32_t)(bench.conversions & 2); }
static void a_converter_that_is_wrong_every_second_time_is_a_fault(void)
{
    pulling();
    bench_hooks.counts = every_second;
    bench_run(100);
    CHECK(device.faults & FAULT_FORCE);
    CHECK(bench.last_step_at + 20 <= bench.milliseconds);
    bench_start();                             /* at standstill */
    bench_hooks.counts = every_second_zero;
    bench_run(400);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    bench_hooks.counts = NULL;
}

static void a_converter_that_is_starved_or_too_slow_is_a_fault(void)
{
    pulling();
    bench.skip_each = 2;
    bench_run(100);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    pulling();
    bench.skip_each = 10;                      /* one of ten may be missing */
    bench_run(2000);
    CHECK_EQUAL(0, device.faults);
    static const uint16_t wrong[] = { 3, 100, 20 };         /* a strap that is not what the image says: faster, slower */
    for (unsigned i = 0; i < 3; i++) {
        bench_start();
        bench.conversion_every = wrong[i];
        bench_run(2000);
        CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    }
}

static void a_converter_that_dies_in_motion_is_noticed_in_two_periods_and_a_half(void)
{
    pulling();
    bench_run(12 - bench.milliseconds % 12);   /* just after a conversion */
    bench.conversion_every = 0;
    uint32_t at = bench.milliseconds;
    bench_run(100);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK(bench.last_step_at - at <= 38);
    bench_converter(100);                      /* 10 a second: 356 ms before */
    pulling();
    bench_run(100 - bench.milliseconds % 100);
    bench.conversion_every = 0;
    at = bench.milliseconds;
    bench_run(500);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK(bench.last_step_at - at <= 256);
}

/* The first second, in which a converter may settle, is none of grace once something moves (found by the witness). */
static void the_first_second_is_no_licence_to_move_blind(void)
{
    bench_start();
    bench_restart(0);
    bench_run(100);
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(100);
    bench.conversion_every = 0;
    bench_run(60);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
}

/* At 10,000 a second two in a row are 0.2 ms: one spark. */
static int32_t spark(int32_t counts) { return bench.conversions % 1000 < 5 ? 5000000 : counts + (int32_t)(bench.conversions / 8u & 1u); }
static void a_spark_on_a_fast_converter_is_no_overload(void)
{
    bench_converter(1);
    bench_start();
    bench_traits.converter_rate_millihertz = 10000000;
    bench_restart(0);
    bench.conversion_every = 0;
    bench.per_tick = 2;
    bench_run(1200);
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(100);
    bench_hooks.counts = spark;                /* 0.5 ms, ten times a second */
    bench_run(2000);
    CHECK_EQUAL(0, device.faults);
    bench_hooks.counts = NULL;
    bench.counts = 5000000;
    uint32_t at = bench.milliseconds;
    bench_run(20);
    CHECK_EQUAL(FAULT_FORCE, device.faults);
    CHECK(bench.last_step_at - at <= 3);
}

static void a_limit_that_closes_behind_the_motion_is_a_fault(void)
{
    pulling();
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    bench.reversed = 1;
    bench.upper_switch = bench.true_position + 200;
    uint32_t steps = bench.steps;
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -400, 0));
    bench_run(1500);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
    CHECK(bench.steps - steps <= 203);
    bench_start();                             /* homing: 40 mm and more into the frame before */
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    bench.reversed = 1;
    bench.upper_switch = 500;
    CHECK_EQUAL(RESULT_DONE, bench_home(1000));
    bench_run(3000);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
    CHECK(bench.true_position <= 504);
    CHECK_EQUAL(0, motion_homed());
}

/* One that was reached at the start, was left, and closes again. */
static void a_limit_that_was_left_may_not_close_again(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    bench.lower_switch = 100;
    bench_run(10);
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(1000);
    CHECK_EQUAL(0, device.faults);
    bench.lower_switch = 100000;
    bench_run(5);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
}

/* What the tick cannot make, or nobody has set, moves nothing: a speed over the top ran the other way, before. */
static void traits_that_cannot_be_measure_and_move_nothing(void)
{
    traits_t good = bench_traits;
    for (int what = 0; what < 9; what++) {
        bench_traits = good;
        if (what == 0) bench_traits.speed_max = 30000;
        if (what == 1) bench_traits.acceleration_max = 11000000;
        if (what == 2) bench_traits.force_min = bench_traits.force_max = 0;
        if (what == 3) bench_traits.travel_max = bench_traits.travel_min;
        if (what == 4) bench_traits.steps_per_metre = 0;
        if (what == 5) bench_traits.converter_bits = 7;
        if (what == 6) bench_traits.speed_max = 0;
        if (what == 7) bench_traits.travel_max = INT32_MAX;
        bench_clear_all();
        if (what == 8) bench_traits.converter_rate_millihertz = 0;
        bench.keep_alive = 1;
        device_start(&bench_traits, BENCH_INPUTS_GOOD, 0);
        bench_run(1200);
        CHECK_EQUAL(0, get32(bench_last(MSG_HELLO)->bytes + 17) & (CAN_MOTION | CAN_HOMING | CAN_RELEASE));
        CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_limits(7, -50000, 1920000, -400, 40000));
        CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_move(MOVE_BY_SPEED, 400, 0));
        CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    }
    bench_traits = good;
}

static void homing_leaves_the_switch_within_a_bound_and_refuses_both(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    bench.inputs |= INPUT_LOWER_LIMIT;         /* a cut wire: 66,440 steps up, 166 mm, before */
    bench_run(10);
    CHECK_EQUAL(RESULT_DONE, bench_home(4000));
    bench_run(5000);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
    CHECK(bench.steps <= 820 + 1);             /* the clearance of 20 steps, and 2 mm */
    CHECK_EQUAL(0, motion_homed());
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    bench.inputs |= INPUT_UPPER_LIMIT;
    bench_run(10);
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_home(1000));
}

/* A switch that opens elsewhere each time gives no home. */
static void homing_touches_twice_and_compares(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    bench.lower_switch = -100;
    CHECK_EQUAL(RESULT_DONE, bench_home(1000));
    for (int i = 0; i < 3000 && bench.true_position > -101; i++) bench_run(1);
    for (int i = 0; i < 3000 && bench.true_position <= -99; i++) bench_run(1);
    CHECK(bench.true_position > -99);
    bench.lower_switch = -300;                 /* it has slipped by half a millimetre */
    bench_run(10000);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
    CHECK_EQUAL(0, motion_homed());
}

/* 1,024 more steps at 4,000 a second before. */
static void a_hung_main_loop_stops_the_motor(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 4000, 0));
    bench_run(500);
    bench.hung = 1;
    uint32_t steps = bench.steps;
    bench_run(300);
    CHECK(bench.steps - steps <= 4 * 21);
    CHECK_EQUAL(0, bench.powered);
    bench.hung = 0;
    bench_run(10);
    CHECK_EQUAL(FAULT_WATCHDOG, device.faults);
    CHECK_EQUAL(MOTION_STILL, motion_state());
}

/* Started by its watchdog for the third time in a row, it stands until it is switched off. */
static void a_device_that_is_held_cannot_be_cleared(void)
{
    bench_start();
    bench_restart(START_BY_WATCHDOG | START_HELD);
    bench_run(1200);
    CHECK_EQUAL(FAULT_WATCHDOG | (uint32_t)(START_BY_WATCHDOG | START_HELD) << 16, get32(bench_last(MSG_EVENT)->bytes + 8));
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_WATCHDOG, device.faults);
    CHECK_EQUAL(RESULT_FAULTED, bench_move(MOVE_BY_SPEED, 400, 0));
}

/* 50 mm in 5 s, and still moving, before. */
static void a_ramped_stop_has_an_end(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1920000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 4000, 0));
    bench_run(500);
    uint8_t p[22] = { MSG_MOVE };
    put32(put32(put32(put16(put32(p + 3, BENCH_BOOT), 7) + 1, 4000), 1), 0);
    CHECK_EQUAL(RESULT_DONE, bench_command(p, sizeof p));
    uint32_t steps = bench.steps;
    CHECK_EQUAL(RESULT_DONE, bench_stop(0));
    bench_run(502);
    CHECK_EQUAL(MOTION_STILL, motion_state());
    CHECK(bench.steps - steps <= 900);
}

void test_fooled(void)
{
    RUN(one_chattering_input_blinds_no_other);
    RUN(an_input_that_never_settles_is_bad);
    RUN(sparks_far_apart_stop_nothing);
    RUN(a_data_line_that_sits_low_is_no_stream_of_zeros);
    RUN(a_reading_that_freezes_is_a_fault);
    RUN(a_converter_that_is_wrong_every_second_time_is_a_fault);
    RUN(a_converter_that_is_starved_or_too_slow_is_a_fault);
    RUN(a_converter_that_dies_in_motion_is_noticed_in_two_periods_and_a_half);
    RUN(the_first_second_is_no_licence_to_move_blind);
    RUN(a_spark_on_a_fast_converter_is_no_overload);
    RUN(a_limit_that_closes_behind_the_motion_is_a_fault);
    RUN(a_limit_that_was_left_may_not_close_again);
    RUN(traits_that_cannot_be_measure_and_move_nothing);
    RUN(homing_leaves_the_switch_within_a_bound_and_refuses_both);
    RUN(homing_touches_twice_and_compares);
    RUN(a_hung_main_loop_stops_the_motor);
    RUN(a_device_that_is_held_cannot_be_cleared);
    RUN(a_ramped_stop_has_an_end);
}
