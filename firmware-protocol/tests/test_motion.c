#include "bench.h"
#include "motion.h"

static void ready(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -8000000, 8000000, -400, 60000));
}

static void homed(void)
{
    ready();
    bench.lower_switch = -100;
    CHECK_EQUAL(RESULT_DONE, bench_home(1000));
    bench_run(3000);
    CHECK_EQUAL(1, motion_homed());
    CHECK_EQUAL(MOTION_STILL, motion_state());
}

static void runs_at_the_commanded_speed(void)
{
    ready();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 4000, 0));
    bench_run(300);
    uint32_t steps = bench.steps;
    bench_run(1000);
    CHECK(bench.steps - steps >= 3999 && bench.steps - steps <= 4001);
    CHECK_EQUAL(bench.true_position, stepper_position());
    CHECK_EQUAL(MOTION_MOVING, bench_state_at(7) & 0xFF);
}

static void the_ramp_has_the_commanded_acceleration(void)
{
    ready();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    bench_run(200);                            /* 20,000 steps/s²: 4,000 steps/s after 200 ms, 400 steps on */
    CHECK(bench.steps >= 390 && bench.steps <= 410);
    CHECK_EQUAL(RESULT_DONE, bench_stop(0));
    bench_run(190);
    CHECK_EQUAL(MOTION_STOPPING, motion_state());
    bench_run(30);
    CHECK_EQUAL(MOTION_STILL, motion_state());
    CHECK(bench.steps >= 785 && bench.steps <= 815);
    bench_acknowledge_all();
    CHECK_EQUAL(1, bench_events_of(EVENT_MOTION_ENDED));
    CHECK_EQUAL(bench.true_position, (int32_t)get32(bench_last(MSG_EVENT)->bytes + 8));
}

static void finds_home_slowly_from_the_switch(void)
{
    homed();
    CHECK_EQUAL(0, stepper_position());
    CHECK(bench.true_position >= -78 && bench.true_position <= -76);    /* open at -99; good after 20 ms, at an eighth of the speed */
    bench_acknowledge_all();
    CHECK_EQUAL(1, bench_events_of(EVENT_HOMED));
    int32_t before = bench.true_position;
    CHECK_EQUAL(RESULT_DONE, bench_home(1000));
    bench_run(3000);
    CHECK_EQUAL(before, bench.true_position);  /* the same place again */
    CHECK_EQUAL(0, stepper_position());
}

static void no_block_mixes_two_countings(void)
{
    for (int start = -100; start > -110; start--) {    /* so that the jump falls into the middle of some block */
        bench_converter(2);
        ready();
        bench.lower_switch = start;
        CHECK_EQUAL(RESULT_DONE, bench_stream(1));
        CHECK_EQUAL(RESULT_DONE, bench_home(1000));
        bench_run(3000);
        CHECK_EQUAL(1, motion_homed());
        for (unsigned i = 0; i < bench.count; i++) {
            const uint8_t *b = bench.frames[i].bytes;
            if (b[0] != MSG_SAMPLES) continue;
            for (unsigned k = 0; k < b[33]; k++) {
                int16_t change = (int16_t)get16(b + 37 + 5 * k);
                CHECK(change >= -2 && change <= 2);    /* 1,000 steps/s, 500 conversions/s */
            }
        }
    }
}

static void a_home_that_is_not_there_is_given_up(void)
{
    ready();
    device.limits.time_max = 100000;
    CHECK_EQUAL(RESULT_DONE, bench_home(8000));
    bench_run(9000);
    CHECK_EQUAL(FAULT_TRAVEL, device.faults);
    CHECK_EQUAL(0, motion_homed());
    CHECK(bench.steps <= 66440 + 1);
}

static void meets_its_target_exactly_and_softly(void)
{
    static const int32_t targets[] = { 1, 0, 5, 300, 301, 4000, 20000, 0, 59999, 12345 };
    static const int32_t speeds[] = { 8000, 30, 800, 4000, -8000 };
    homed();
    device.limits.time_max = 100000;
    for (unsigned s = 0; s < 5; s++) {
        if (speeds[s] == 30) continue;
        for (unsigned t = 0; t < 10; t++) {
            CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_TO_POSITION, speeds[s], targets[t]));
            uint32_t steps = bench.steps, per_ms = 0;
            for (int ms = 0; ms < 90000 && motion_state() != MOTION_STILL; ms++) {
                per_ms = bench.steps - steps;
                steps = bench.steps;
                bench_run(1);
                if (bench.count > BENCH_FRAMES_MAX / 2) bench.count = 0;
            }
            CHECK_EQUAL(targets[t], stepper_position());
            CHECK_EQUAL(0, device.faults);
            CHECK(per_ms <= 1);                /* it came in below 1,000 steps/s */
            bench_acknowledge_all();
        }
    }
}

static void a_new_move_replaces_one_without_a_stop(void)
{
    homed();
    bench_acknowledge_all();
    unsigned ended = bench_events_of(EVENT_MOTION_ENDED);
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 4000, 0));
    bench_run(500);
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(500);
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -4000, 0));
    bench_run(300);
    CHECK_EQUAL(-1, bench.direction);
    /* a target just ahead, too close to stop at: past it and back */
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    bench_run(1000);
    int32_t close = stepper_position() + 10;
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_TO_POSITION, 8000, close));
    bench_run(3000);
    CHECK_EQUAL(close, stepper_position());
    CHECK_EQUAL(MOTION_STILL, motion_state());
    CHECK_EQUAL(0, device.faults);
    bench_acknowledge_all();
    CHECK_EQUAL(ended + 1, bench_events_of(EVENT_MOTION_ENDED));
}

static void busy_while_stopping_and_homing(void)
{
    homed();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    CHECK_EQUAL(RESULT_BUSY, bench_home(1000));
    CHECK_EQUAL(RESULT_BUSY, bench_limits(8, -8000000, 8000000, -400, 60000));
    CHECK_EQUAL(RESULT_BUSY, bench_clear(0xFFFF));
    bench_run(500);
    CHECK_EQUAL(RESULT_DONE, bench_stop(0));
    CHECK_EQUAL(RESULT_BUSY, bench_move(MOVE_BY_SPEED, 100, 0));
    bench_run(1000);
    CHECK_EQUAL(RESULT_DONE, bench_home(1000));
    bench_run(10);
    CHECK_EQUAL(RESULT_BUSY, bench_move(MOVE_BY_SPEED, 100, 0));
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    CHECK_EQUAL(0, motion_homed());
}

static void a_move_to_where_it_stands_ends_at_once(void)
{
    homed();
    bench_acknowledge_all();
    unsigned ended = bench_events_of(EVENT_MOTION_ENDED);
    uint32_t steps = bench.steps;
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_TO_POSITION, 100, 0));
    bench_run(5);
    bench_acknowledge_all();
    CHECK_EQUAL(ended + 1, bench_events_of(EVENT_MOTION_ENDED));
    CHECK_EQUAL(steps, bench.steps);
}

static void with_a_feeder(uint8_t specimens)
{
    bench_traits.feeder = &bench_feeder;
    bench_traits.capabilities |= CAN_FEEDER;
    bench_start();
    bench.magazine = specimens;
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
}

static void without_one(void)
{
    bench_traits.feeder = NULL;
    bench_traits.capabilities &= ~(uint32_t)CAN_FEEDER;
}

static void a_feeder_puts_in_one_after_another_until_it_is_empty(void)
{
    with_a_feeder(2);
    for (unsigned i = 1; i <= 3; i++) {
        CHECK_EQUAL(RESULT_DONE, bench_feed());
        bench_run(100);
        CHECK_EQUAL(MOTION_FEEDING, bench_state_at(7) & 0xFF);
        CHECK_EQUAL(RESULT_BUSY, bench_feed());
        CHECK_EQUAL(RESULT_BUSY, bench_move(MOVE_BY_SPEED, 100, 0));
        bench_run(300);
        CHECK_EQUAL(MOTION_STILL, motion_state());
        bench_acknowledge_all();
        CHECK_EQUAL(i < 3 ? i : 2, bench_events_of(EVENT_SPECIMEN_LOADED));
        bench_run(110);
        CHECK_EQUAL(i < 3 ? INPUT_SPECIMEN_LOADED : 0, bench_state_at(5) & INPUT_SPECIMEN_LOADED);
    }
    CHECK_EQUAL(1, bench_events_of(EVENT_FEEDER_EMPTY));
    CHECK_EQUAL(3, bench_events_of(EVENT_MOTION_ENDED));
    CHECK(bench_state_at(5) & INPUT_FEEDER_EMPTY);
    CHECK_EQUAL(0, bench.steps);
    without_one();
}

static void a_feeder_is_stopped_like_any_motion(void)
{
    for (int what = 0; what < 5; what++) {
        with_a_feeder(1);
        if (what == 0) bench.time_max = 200;
        CHECK_EQUAL(RESULT_DONE, bench_limits(8, -50000, 1000000, -400, 40000));
        CHECK_EQUAL(RESULT_DONE, bench_feed());
        bench_run(100);
        CHECK(bench.feeding_left);
        if (what == 1) CHECK_EQUAL(RESULT_DONE, bench_stop(0));
        if (what == 2) bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
        if (what == 3) bench.counts = 2000000;
        if (what == 4) bench_restart(0);
        bench_run(120);
        CHECK_EQUAL(MOTION_STILL, motion_state());
        CHECK_EQUAL(0, bench.feeding_left);
        static const uint16_t faults[] = { FAULT_TIME, 0, FAULT_GUARD, FAULT_FORCE, 0 };
        CHECK_EQUAL(faults[what], device.faults);
        CHECK_EQUAL(1, bench.magazine);
    }
    without_one();
    bench_start();
    CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_feed());
}

void test_motion(void)
{
    RUN(a_feeder_puts_in_one_after_another_until_it_is_empty);
    RUN(a_feeder_is_stopped_like_any_motion);
    RUN(runs_at_the_commanded_speed);
    RUN(the_ramp_has_the_commanded_acceleration);
    RUN(finds_home_slowly_from_the_switch);
    RUN(no_block_mixes_two_countings);
    RUN(a_home_that_is_not_there_is_given_up);
    RUN(meets_its_target_exactly_and_softly);
    RUN(a_new_move_replaces_one_without_a_stop);
    RUN(busy_while_stopping_and_homing);
    RUN(a_move_to_where_it_stands_ends_at_once);
}
