#include "bench.h"
#include "record.h"

static void the_state_comes_every_100_ms_with_stream_and_converter_off(void)
{
    bench_start();
    bench.conversion_every = 0;
    bench_run(200);
    unsigned from = bench.count;
    bench_run(2000);
    uint32_t last = 0;
    for (unsigned i = from; i < bench.count; i++) {
        const bench_frame_t *f = &bench.frames[i];
        if (f->bytes[0] != MSG_SAMPLES) continue;
        CHECK_EQUAL(0, f->bytes[33]);
        CHECK(!last || f->at_millisecond - last <= 100);
        last = f->at_millisecond;
    }
    CHECK(bench.milliseconds - last <= 100);
}

static void every_conversion_is_sent_once_in_order(void)
{
    bench_converter(1);
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    bench_run(1000);
    uint32_t next = 0;
    unsigned samples = 0;
    for (unsigned i = 0; i < bench.count; i++) {
        const uint8_t *b = bench.frames[i].bytes;
        if (b[0] != MSG_SAMPLES || !b[33]) continue;
        CHECK_EQUAL(SAMPLES_HEAD + SAMPLE_BYTES * b[33], bench.frames[i].length);
        if (next) CHECK_EQUAL(next, get32(b + 17));
        next = get32(b + 17) + b[33];
        samples += b[33];
        CHECK_EQUAL(84000, (get16(b + 34) | (int32_t)(int8_t)b[36] << 16) & ~1);
    }
    CHECK(samples >= 960);
    CHECK_EQUAL(0, bench.bad);
}

static void no_block_goes_on_over_a_pause_of_the_stream(void)
{
    bench_start();
    for (int i = 0; i < 20; i++) {
        CHECK_EQUAL(RESULT_DONE, bench_stream(1));
        bench_run(13);
        CHECK_EQUAL(RESULT_DONE, bench_stream(0));
        bench_run(13);
    }
    for (unsigned i = 0; i < bench.count; i++)
        if (bench.frames[i].bytes[0] == MSG_SAMPLES) CHECK(bench.frames[i].bytes[33] <= 2);
}

static void counts_keep_their_sign_and_steps_add_up(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -8000000, 8000000, -400, 60000));
    bench.counts = -1;
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 8000, 0));
    bench_run(1000);
    for (unsigned i = 0; i < bench.count; i++) {
        const uint8_t *b = bench.frames[i].bytes;
        if (b[0] != MSG_SAMPLES || !b[33]) continue;
        int32_t position = (int32_t)get32(b + 29);
        for (unsigned k = 0; k < b[33]; k++) {
            CHECK_EQUAL(0xFFFF, get16(b + 34 + 5 * k) | 1);
            CHECK_EQUAL(0xFF, b[36 + 5 * k]);
            position += (int16_t)get16(b + 37 + 5 * k);
        }
        CHECK(position <= bench.true_position);
        CHECK(b[33] <= 5);                     /* 50 ms of 12 ms each */
    }
}

static void the_period_is_measured(void)
{
    bench_start();
    bench_run(3000);
    const bench_frame_t *block = bench_last(MSG_SAMPLES);
    CHECK_EQUAL(12000000, get32(block->bytes + 25));
}

static void events_repeat_until_acknowledged_and_in_order(void)
{
    bench_start();
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(10);
    bench.inputs = BENCH_INPUTS_GOOD;
    unsigned from = bench_frames_of(MSG_EVENT);
    bench_run(1000);
    unsigned sent = bench_frames_of(MSG_EVENT) - from;
    CHECK(sent >= 9 && sent <= 11);
    CHECK_EQUAL(EVENT_GUARD_OPENED, bench_last(MSG_EVENT)->bytes[3]);
    CHECK_EQUAL(get16(bench_last(MSG_EVENT)->bytes + 1), bench_state_at(15));
    uint8_t p[7] = { MSG_ACKNOWLEDGE_EVENT };
    put16(put32(p + 1, BENCH_BOOT + 1), (uint16_t)bench_state_at(15));
    bench_send(p, sizeof p);                   /* another start's: not taken */
    bench_run(150);
    CHECK_EQUAL(EVENT_GUARD_OPENED, bench_last(MSG_EVENT)->bytes[3]);
    put32(p + 1, BENCH_BOOT);
    bench_send(p, sizeof p);
    bench_run(2);
    CHECK_EQUAL(EVENT_GUARD_CLOSED, bench_last(MSG_EVENT)->bytes[3]);
    bench_acknowledge_all();
    bench_run(150);
    CHECK_EQUAL(0, bench_state_at(15));
}

static void a_full_queue_shows_as_a_gap(void)
{
    bench_start();
    for (int i = 0; i < 10; i++) {
        bench.inputs = i & 1 ? BENCH_INPUTS_GOOD : INPUT_EMERGENCY_STOP_RELEASED;
        bench_run(30);
    }
    uint16_t first = (uint16_t)bench_state_at(15);
    bench_acknowledge_all();
    CHECK_EQUAL(first + 7, get16(bench_last(MSG_EVENT)->bytes + 1));
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(10);
    CHECK_EQUAL(first + 10, get16(bench_last(MSG_EVENT)->bytes + 1));
}

/* Number 0 is none, also after 65,535 of them. */
static void event_numbers_skip_0(void)
{
    bench_start();
    CHECK_EQUAL(RESULT_DONE, bench_limits(7, -8000000, 8000000, -400, 60000));
    bench.keep_alive = 0;
    uint16_t raised = get16(bench_last(MSG_EVENT)->bytes + 1);
    while (raised++ < 65535) {                 /* each a motion's end; the queue is full, and the numbers go on */
        if (raised % 50 == 0) {
            uint8_t p[7] = { MSG_KEEP_ALIVE };
            put16(put32(p + 1, BENCH_BOOT), ++bench.counter);
            bench_send(p, sizeof p);
        }
        CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 100, 0));
        CHECK_EQUAL(RESULT_DONE, bench_stop(1));
        if (bench.next_command > 60000) { uint8_t p[3] = { MSG_ASK_HELLO }; bench.next_command = 1; bench_command(p, sizeof p); }
        bench.count = 0;
    }
    bench_acknowledge_all();
    CHECK_EQUAL(RESULT_DONE, bench_move(MOVE_BY_SPEED, 100, 0));
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    bench_run(2);
    CHECK_EQUAL(1, get16(bench_last(MSG_EVENT)->bytes + 1));
}

/* 2.5 bytes a millisecond is 25,000 baud: 1,000 samples/s want 6. */
static void a_full_line_drops_blocks_and_nothing_else(void)
{
    bench_converter(1);
    bench_start();
    bench.room_each = 2;
    bench.room = BENCH_BUFFER;
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    bench_run(2000);
    CHECK(bench_state_at(8) & STATE_BLOCKS_DROPPED);
    for (int i = 0; i < 20; i++) {
        CHECK_EQUAL(RESULT_DONE, bench_limits((uint16_t)(10 + i), -8000000, 8000000, 0, 60000));
        bench_run(50);
    }
    bench.inputs = INPUT_EMERGENCY_STOP_RELEASED;
    bench_run(20);
    CHECK_EQUAL(EVENT_GUARD_OPENED, bench_last(MSG_EVENT)->bytes[3]);
    CHECK_EQUAL(0, bench.bad);
    bench.room_each = 100;
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    bench_run(200);
    CHECK_EQUAL(0, bench_state_at(8) & STATE_BLOCKS_DROPPED);
}

void test_line(void)
{
    RUN(the_state_comes_every_100_ms_with_stream_and_converter_off);
    RUN(every_conversion_is_sent_once_in_order);
    RUN(no_block_goes_on_over_a_pause_of_the_stream);
    RUN(counts_keep_their_sign_and_steps_add_up);
    RUN(the_period_is_measured);
    RUN(events_repeat_until_acknowledged_and_in_order);
    RUN(a_full_queue_shows_as_a_gap);
    RUN(event_numbers_skip_0);
    RUN(a_full_line_drops_blocks_and_nothing_else);
}

int main(void)
{
    test_frames();
    test_commands();
    test_motion();
    test_faults();
    test_line();
    test_fooled();
    test_release();
    record_end();
    printf("%u checks\n", bench_checks);
    return 0;
}
