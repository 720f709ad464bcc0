#include "bench.h"
#include "motion.h"

/* Letting go of what is jammed (PROTOCOL.md, 9, kind 2). */

static int release(int32_t speed) { return bench_move(MOVE_RELEASE, speed, 0); }

static void jammed(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    bench_run(500);
    bench.counts = 8388607;                    /* saturated: Converter stays, and every motion was refused */
    bench_run(100);
    CHECK_EQUAL(FAULT_FORCE | FAULT_CONVERTER, device.faults);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK_EQUAL(RESULT_FAULTED, bench_move(MOVE_BY_SPEED, -100, 0));
}

static void a_jammed_rig_lets_go_while_it_is_held_to(void)
{
    jammed();
    int32_t from = bench.true_position;
    CHECK_EQUAL(RESULT_DONE, release(-400));
    bench_run(1000);                           /* asked for once: 300 ms */
    CHECK_EQUAL(MOTION_STILL, motion_state());
    CHECK(from - bench.true_position > 50 && from - bench.true_position <= 121);
    for (int i = 0; i < 100; i++) {            /* held: 5 mm in all, and no further */
        int result = release(-400);
        CHECK(result == RESULT_DONE || result == RESULT_BUSY);
        bench_run(200);
    }
    CHECK_EQUAL(2000, from - bench.true_position);
    CHECK_EQUAL(MOTION_STILL, motion_state());
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    bench.counts = 84000;
    bench_run(200);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -400, 0));
}

/* What a dead converter reads meanwhile ends nothing. */
static void a_release_looks_at_no_dead_converter(void)
{
    jammed();
    CHECK_EQUAL(RESULT_DONE, release(-400));
    bench_run(50);
    bench.counts = COUNTS_MIN;
    bench_run(150);
    CHECK_EQUAL(MOTION_MOVING, motion_state());
}

/* Back is against the last step that was made, not against what was commanded last (found by the witness). */
static void back_is_against_the_last_step(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    bench_run(300);
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, -8000, 0));
    for (int i = 0; i < 1000 && stepper.direction > 0; i++) bench_run(1);
    int32_t position = bench.true_position;
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    CHECK_EQUAL(position, bench.true_position);
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, release(400));
    CHECK_EQUAL(RESULT_DONE, release(-400));
}

static void a_release_goes_only_back_slowly_and_with_the_guard_closed(void)
{
    jammed();
    uint32_t steps = bench.steps;
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, release(400));      /* on in the direction of the jam */
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, release(-401));     /* faster than 1 mm/s */
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(10);
    CHECK_EQUAL(RESULT_GUARD_OPEN, release(-400));
    bench.inputs = INPUT_GUARD_CLOSED;
    bench_run(30);
    CHECK_EQUAL(RESULT_EMERGENCY_STOP_PRESSED, release(-400));
    bench.inputs = BENCH_INPUTS_GOOD;
    bench_run(30);
    CHECK_EQUAL(RESULT_FAULTED, release(-400));            /* the emergency stop is latched */
    CHECK_EQUAL(steps, bench.steps);
    bench_restart(0);                          /* from a start on nobody knows where it came from */
    bench_run(1200);
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, release(-400));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, release(400));
}

static void a_release_is_stopped_like_any_motion(void)
{
    for (int what = 0; what < 4; what++) {
        jammed();
        if (what == 3) {                       /* with a converter that works, a release that makes it worse */
            bench.counts = 1200000;
            bench_run(200);
            CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
        }
        CHECK_EQUAL(RESULT_DONE, release(-400));
        bench_run(100);
        CHECK_EQUAL(MOTION_MOVING, motion_state());
        if (what == 0) bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
        if (what == 1) bench.inputs = INPUT_GUARD_CLOSED;
        if (what == 2) CHECK_EQUAL(RESULT_DONE, bench_stop(1));
        if (what == 3) bench.counts = 1240000;
        bench_run(40);
        CHECK_EQUAL(MOTION_STILL, motion_state());
        static const uint16_t faults[] = { FAULT_GUARD | FAULT_CONVERTER, FAULT_EMERGENCY_STOP | FAULT_CONVERTER, FAULT_CONVERTER, FAULT_FORCE };
        CHECK_EQUAL(faults[what], device.faults);
    }
}

/* It may not be made a way round what forbids: a release in mid-motion, or a motion in mid-release. */
static void a_release_replaces_no_other_motion(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 1000000, -400, 40000));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(200);
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(200);
    CHECK_EQUAL(RESULT_BUSY, release(-400));
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    CHECK_EQUAL(RESULT_DONE, release(-400));
    bench_run(50);
    CHECK_EQUAL(RESULT_BUSY, bench_move(MOVE_BY_SPEED, 400, 0));
}

void test_release(void)
{
    RUN(a_jammed_rig_lets_go_while_it_is_held_to);
    RUN(a_release_looks_at_no_dead_converter);
    RUN(back_is_against_the_last_step);
    RUN(a_release_goes_only_back_slowly_and_with_the_guard_closed);
    RUN(a_release_is_stopped_like_any_motion);
    RUN(a_release_replaces_no_other_motion);
}
