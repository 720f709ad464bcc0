#include "bench.h"
#include "crc16.h"

static void ready(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -50000, 4200000, -400, 40000));
}

static void starts_with_a_zero_a_hello_and_an_event(void)
{
    bench_start();
    CHECK(bench.zeros_first >= 1);
    CHECK_EQUAL(0, bench.bad);
    CHECK_EQUAL(MSG_HELLO, bench.frames[0].bytes[0]);
    CHECK_EQUAL(59 + 9, bench.frames[0].length);
    CHECK_EQUAL(1, bench.frames[0].bytes[1]);
    CHECK_EQUAL(BENCH_BOOT, get32(bench.frames[0].bytes + 3));
    CHECK_EQUAL(400000, get32(bench.frames[0].bytes + 30));
    CHECK_EQUAL(1, bench_events_of(EVENT_STARTED));
    CHECK_EQUAL(0, bench_state_at(11));
}

static void limits_are_confirmed_by_id_and_checksum(void)
{
    ready();
    const bench_frame_t *answer = bench_last(MSG_ANSWER);
    CHECK_EQUAL(7, get16(answer->bytes + 5));
    uint8_t p[33] = { MSG_SET_LIMITS, 1, 0, 7, 0 };
    put32(put32(put32(put32(p + 5, (uint32_t)-50000), 4200000), (uint32_t)-400), 40000);
    put32(put32(put32(p + 21, 8000), 40000), 20000);
    CHECK_EQUAL(crc16(p, sizeof p), get16(answer->bytes + 7));
    bench_run(100);
    CHECK_EQUAL(7, bench_state_at(11));
}

static void limits_that_are_wrong_leave_the_old_ones(void)
{
    ready();
    CHECK_EQUAL(RESULT_BAD_VALUE, bench_limits(0, -50000, 4200000, 0, 40000));
    CHECK_EQUAL(RESULT_BAD_VALUE, bench_limits(8, 5, 5, 0, 40000));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_limits(8, -8000001, 5, 0, 40000));
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_limits(8, -5, 5, 0, 60001));
    CHECK_EQUAL(7, device.limits.id);
    CHECK_EQUAL(4200000, device.limits.force_max);
}

static void nothing_moves_without_what_it_needs(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_WRONG_LIMITS, bench_move(MOVE_BY_SPEED, 400, 0));
    ready();
    uint16_t id = device.limits.id;
    device.limits.id = 6;
    uint8_t p[22] = { MSG_MOVE };
    p[9] = MOVE_BY_SPEED;
    put32(put32(put32(put16(put32(p + 3, BENCH_BOOT), id) + 1, 400), 20000), 0);
    CHECK_EQUAL(RESULT_WRONG_LIMITS, bench_command(p, sizeof p));
    device.limits.id = id;
    put32(p + 3, BENCH_BOOT + 1);
    CHECK_EQUAL(RESULT_WRONG_BOOT, bench_command(p, sizeof p));
    put32(p + 3, BENCH_BOOT);
    CHECK_EQUAL(RESULT_BAD_VALUE, bench_command(p, sizeof p - 1));
    put32(p + 10, 0);
    CHECK_EQUAL(RESULT_BAD_VALUE, bench_command(p, sizeof p));
    put32(p + 10, 8001);
    CHECK_EQUAL(RESULT_OUTSIDE_LIMITS, bench_command(p, sizeof p));
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(10);
    CHECK_EQUAL(RESULT_GUARD_OPEN, bench_move(MOVE_BY_SPEED, 400, 0));
    bench.inputs = BENCH_INPUTS_GOOD;
    bench.keep_alive = 0;
    bench_run(700);
    CHECK_EQUAL(RESULT_NO_KEEP_ALIVE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench.keep_alive = 1;
    bench_run(100);
    CHECK_EQUAL(RESULT_NOT_HOMED, bench_move(MOVE_TO_POSITION, 400, 100));
    bench.inputs = INPUT_GUARD_CLOSED;
    bench_run(10);
    CHECK_EQUAL(RESULT_EMERGENCY_STOP_PRESSED, bench_move(MOVE_BY_SPEED, 400, 0));
    bench.inputs = BENCH_INPUTS_GOOD;
    bench_run(30);
    CHECK_EQUAL(RESULT_FAULTED, bench_move(MOVE_BY_SPEED, 400, 0));
    CHECK_EQUAL(0, bench.steps);
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(100);
    CHECK(bench.steps > 10);
}

static void a_repeated_command_repeats_its_answer_and_does_nothing(void)
{
    ready();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(100);
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    bench_run(10);
    uint32_t steps = bench.steps;
    bench.next_command--;
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    /* the motion again, overtaken by the stop */
    bench.next_command -= 2;
    CHECK_EQUAL(RESULT_SUPERSEDED, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(100);
    CHECK_EQUAL(steps, bench.steps);
    bench.next_command++;
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    bench_run(2);
    steps = bench.steps;
    unsigned answers = bench_frames_of(MSG_ANSWER);
    bench.next_command--;
    uint8_t other[22] = { MSG_MOVE };          /* the stop's number under another type: the stop's answer, no motion */
    put16(other + 1, bench.next_command++);
    bench_send(other, sizeof other);
    CHECK_EQUAL(answers + 1, bench_frames_of(MSG_ANSWER));
    CHECK_EQUAL(MSG_STOP, bench_last(MSG_ANSWER)->bytes[3]);
    bench_run(50);
    CHECK_EQUAL(steps, bench.steps);
}

static void numbers_wrap(void)
{
    bench_start();
    bench.next_command = 65535;
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    bench.next_command = 1;
    CHECK_EQUAL(RESULT_DONE, bench_stream(0));
    bench.next_command = 65535;
    CHECK_EQUAL(RESULT_SUPERSEDED, bench_stream(1));
    bench.next_command = 0;
    CHECK_EQUAL(RESULT_BAD_VALUE, bench_stream(1));
}

static void a_hello_opens_a_session_whatever_its_number(void)
{
    bench_start();
    bench.next_command = 500;
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    bench.next_command = 1;
    unsigned hellos = bench_frames_of(MSG_HELLO);
    for (int i = 0; i < 2; i++) {
        uint8_t p[3] = { MSG_ASK_HELLO };
        bench.next_command = 1;
        CHECK_EQUAL(RESULT_DONE, bench_command(p, sizeof p));
        bench_run(1);
    }
    CHECK_EQUAL(hellos + 2, bench_frames_of(MSG_HELLO));
    CHECK_EQUAL(RESULT_DONE, bench_stream(0));
}

static void unknown_types_are_answered_or_skipped_by_their_range(void)
{
    bench_start();
    uint8_t p[16] = { 0x60 };
    CHECK_EQUAL(RESULT_UNKNOWN_TYPE, bench_command(p, 3));
    unsigned answers = bench_frames_of(MSG_ANSWER);
    uint8_t silent[] = { 0x00, 0x01, 0x04, 0x3F, 0x70, 0x7F, 0x80, 0xFF, MSG_KEEP_ALIVE, MSG_ACKNOWLEDGE_EVENT };
    for (unsigned i = 0; i < sizeof silent; i++) { p[0] = silent[i]; bench_send(p, 5); }
    CHECK_EQUAL(answers, bench_frames_of(MSG_ANSWER));
    p[0] = MSG_FEED;
    CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_command(p, 9));
}

static void trailing_fields_are_skipped(void)
{
    bench_start();
    uint8_t p[FRAME_PAYLOAD_MAX] = { MSG_STREAM, 0, 0, 1 };
    memset(p + 8, 0xAB, sizeof p - 8);
    CHECK_EQUAL(RESULT_DONE, bench_command(p, sizeof p));
    CHECK_EQUAL(1, device.streaming);
}

static void a_stop_too_short_stops_at_once(void)
{
    ready();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 4000, 0));
    bench_run(300);
    uint8_t p[1] = { MSG_STOP };
    bench_send(p, 1);
    uint32_t steps = bench.steps;
    bench_run(50);
    CHECK_EQUAL(steps, bench.steps);
    CHECK_EQUAL(0, get16(bench_last(MSG_ANSWER)->bytes + 1));
}

static void a_restart_forgets_limits_and_refuses_what_is_stale(void)
{
    ready();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 400, 0));
    bench_run(50);
    uint8_t p[22] = { MSG_MOVE };
    p[9] = MOVE_BY_SPEED;
    put32(put32(put32(put16(put32(p + 3, BENCH_BOOT), 7) + 1, 400), 20000), 0);
    bench_restart(1);
    CHECK_EQUAL(0, bench.powered);
    CHECK_EQUAL(RESULT_WRONG_BOOT, bench_command(p, sizeof p));
    bench_run(1200);
    CHECK_EQUAL(FAULT_WATCHDOG, bench_state_at(9));
    CHECK_EQUAL(0, bench_state_at(11));
    CHECK_EQUAL(RESULT_DONE, bench_clear(0xFFFF));
    bench_run(2);
    CHECK_EQUAL(0, bench_state_at(9));
}

void test_commands(void)
{
    RUN(starts_with_a_zero_a_hello_and_an_event);
    RUN(limits_are_confirmed_by_id_and_checksum);
    RUN(limits_that_are_wrong_leave_the_old_ones);
    RUN(nothing_moves_without_what_it_needs);
    RUN(a_repeated_command_repeats_its_answer_and_does_nothing);
    RUN(numbers_wrap);
    RUN(a_hello_opens_a_session_whatever_its_number);
    RUN(unknown_types_are_answered_or_skipped_by_their_range);
    RUN(trailing_fields_are_skipped);
    RUN(a_stop_too_short_stops_at_once);
    RUN(a_restart_forgets_limits_and_refuses_what_is_stale);
}
