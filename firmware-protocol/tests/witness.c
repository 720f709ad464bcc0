#include "witness.h"
#include "converter.h"
#include "motion.h"

/* PROTOCOL.md, 10: an input is bad after 5 ms of bad at the latest, added up until it has been good for 20 ms; and the main loop acts on the next
 * millisecond. In ticks. */
#define FILTERED  (6u * TICKS_PER_MILLISECOND)
#define FORGOTTEN (20u * TICKS_PER_MILLISECOND)
#define TO_RELEASE (FAULT_FORCE | FAULT_TRAVEL | FAULT_TIME | FAULT_CONVERTER)
enum { GUARD, EMERGENCY_STOP, LOWER, UPPER, DRIVER, INPUTS };
#define HISTORY 4096u

typedef struct { int32_t counts, steps; } conversion_t;
static conversion_t history[HISTORY];

static struct {
    uint8_t  stretch[FRAME_STUFFED_MAX], too_long;
    unsigned length;
    /* the session, as the answers tell it */
    uint16_t last_number, answered;
    uint8_t  numbered, answers, streaming, gap_allowed;
    uint8_t  payload[FRAME_KEPT_MAX], payload_length;   /* the command being taken; length 0: none */
    limits_t limits;
    /* life */
    uint8_t  alive_once, counter_seen;
    uint16_t counter;
    uint32_t alive_at, started_at, state_at, converted_at;
    struct { uint32_t bad, good; } inputs[INPUTS];
    uint32_t looped_at;
    uint8_t  releasing;
    int8_t   last_direction, way;                        /* in which the last motion that was no release went; in which this one does */
    uint8_t  released;
    int32_t  release_from;
    uint32_t released_at;
    uint8_t  opened[2];                                  /* lower, upper: open at some time of this motion */
    /* the converter */
    uint32_t counted_at, judged_at, judged_count, doubts, doubts_known, equal;
    int32_t  judged[8];
    /* motion */
    uint8_t  allowed, homing, clean_start, was_fault_force;
    uint32_t moving_since, steps_before;
    int32_t  offset, position, way_back_from;
    int8_t   way_back;
    /* the line */
    uint32_t conversions, next_number, counted_anew_at;
    uint16_t event_number;
    uint8_t  event_seen;
} w;

static int8_t side(int32_t counts) { return counts > w.limits.force_max ? 1 : counts < w.limits.force_min ? -1 : 0; }
/* Of those that the limits look at: one a millisecond at most. */
static int32_t counts_ago(uint32_t n) { return n < w.judged_count ? w.judged[(w.judged_count - 1u - n) % 8u] : 0; }
/* Whether the motion lasts longer than it may, and a millisecond; the most of all times has none to spare. */
static uint8_t too_long(void)
{
    uint32_t lasted = bench.milliseconds - w.moving_since;
    return lasted > w.limits.time_max && lasted - w.limits.time_max > 1u;
}
static uint32_t alive_for(void) { return w.alive_once ? bench.milliseconds - w.alive_at : UINT32_MAX; }

static uint8_t is_bad(unsigned input) { return w.inputs[input].bad >= FILTERED; }
static uint8_t is_unsafe(void) { return is_bad(GUARD) || is_bad(EMERGENCY_STOP) || is_bad(DRIVER); }
static uint32_t period(void) { return 1000000000u / bench_traits.converter_rate_millihertz; }
static uint32_t now(void) { return stepper.ticks * MICROSECONDS_PER_TICK; }

static void life(const uint8_t *p, unsigned length)
{
    if (length < 7 || get32(p + 1) != bench_traits.boot_number) return;
    int16_t newer = (int16_t)(get16(p + 5) - w.counter);
    if (w.counter_seen && (!newer || (newer < 0 && alive_for() < 499))) return;   /* the last ms is the tick's to judge */
    w.counter = get16(p + 5);
    w.counter_seen = w.alive_once = 1;
    w.alive_at = bench.milliseconds;
}

/* What must be true when a motion was taken, and what it starts from. */
static void motion_taken(const uint8_t *p, uint8_t was)
{
    CHECK_EQUAL(bench_traits.boot_number, get32(p + 3));
    CHECK(w.limits.id && get16(p + 7) == w.limits.id);
    CHECK(alive_for() <= 500);
    CHECK(!is_unsafe());
    uint8_t release = p[0] == MSG_MOVE && p[9] == MOVE_RELEASE;
    CHECK_EQUAL(0, device.faults & ~(release ? TO_RELEASE : 0));
    CHECK(release || w.conversions);
    if (release) {
        int32_t speed = (int32_t)get32(p + 10);
        CHECK(w.last_direction == (speed < 0 ? 1 : -1));
        CHECK(speed >= -400 && speed <= 400);            /* 1 mm/s */
        if (!w.released) w.release_from = w.position;
        w.released_at = bench.milliseconds;
    }
    w.releasing = w.released = release;
    CHECK(was == MOTION_STILL || (was == MOTION_MOVING && p[0] == MSG_MOVE));
    w.moving_since = bench.milliseconds;
    w.allowed = 1;
    w.homing = p[0] == MSG_HOME;
    w.opened[0] = w.opened[1] = 0;
    if (was != MOTION_STILL) return;
    int8_t last = side(counts_ago(0)), before = side(counts_ago(1));
    w.clean_start = !last && !before;
    w.way_back = last && before ? last : 0;
    w.way_back_from = w.way_back > 0 ? INT32_MIN : INT32_MAX;
    for (uint32_t i = 0; w.way_back && i < 2; i++) {    /* the further out: looser than the core, never tighter */
        int32_t c = counts_ago(i);
        if (w.way_back > 0 ? c > w.way_back_from : c < w.way_back_from) w.way_back_from = c;
    }
}

static void command_taken(uint8_t was)
{
    const uint8_t *p = w.payload;
    uint16_t number = w.payload_length >= 3 ? get16(p + 1) : 0;
    int16_t newer = (int16_t)(number - w.last_number);
    uint8_t fresh = number && (!w.numbered || newer > 0);
    const bench_frame_t *answer = bench_last(MSG_ANSWER);
    if (w.answers) CHECK_EQUAL(number, get16(answer->bytes + 1));
    if (p[0] == MSG_STOP) {
        if (w.payload_length < 4 || p[3]) CHECK_EQUAL(MOTION_STILL, motion_state());
        else CHECK(motion_state() == MOTION_STILL || motion_state() == MOTION_STOPPING);
    }
    if (!fresh) {                                        /* nothing is done again */
        if (w.answers && p[0] != MSG_STOP && p[0] != MSG_ASK_HELLO) CHECK_EQUAL(was, motion_state());
        if (number && p[0] == MSG_ASK_HELLO) w.last_number = number;
        return;
    }
    w.last_number = number;
    w.numbered = 1;
    if (p[0] == MSG_STREAM) w.gap_allowed = 1;
    if (!w.answers) {                                    /* no room for the answer: what was decided cannot be seen */
        w.allowed = w.homing = 1;
        w.clean_start = 0;
        w.opened[0] = w.opened[1] = 0;
        w.releasing = motion_releasing();
        w.released_at = bench.milliseconds;
        if (w.releasing && !w.released) w.release_from = w.position;
        if (motion_state() != MOTION_STILL) w.released = w.releasing;
        w.way_back = 0;
        w.moving_since = bench.milliseconds;
        w.limits = device.limits;
        w.streaming = device.streaming;
        return;
    }
    if (answer->bytes[4] != RESULT_DONE) { if (p[0] != MSG_STOP) CHECK(motion_state() == was || device.faults); return; }
    switch (p[0]) {
    case MSG_SET_LIMITS:
        CHECK_EQUAL(MOTION_STILL, was);
        w.limits = (limits_t){ get16(p + 3), (int32_t)get32(p + 5), (int32_t)get32(p + 9), (int32_t)get32(p + 13), (int32_t)get32(p + 17),
                               get32(p + 21), get32(p + 25), get32(p + 29) };
        CHECK(w.limits.force_min >= bench_traits.force_min && w.limits.force_max <= bench_traits.force_max);
        CHECK(w.limits.travel_min >= bench_traits.travel_min && w.limits.travel_max <= bench_traits.travel_max);
        CHECK(w.limits.speed_max <= bench_traits.speed_max);
        CHECK_EQUAL(w.limits.id, get16(answer->bytes + 5));
        break;
    case MSG_MOVE: case MSG_HOME: motion_taken(p, was); break;
    case MSG_STREAM: w.streaming = p[3] != 0; break;
    case MSG_CLEAR_FAULTS: CHECK_EQUAL(MOTION_STILL, was); CHECK_EQUAL(bench_traits.boot_number, get32(p + 3)); break;
    case MSG_FEED:
        CHECK(bench_traits.capabilities & CAN_FEEDER);
        motion_taken(p, was);
        w.allowed = 0;                                   /* the crosshead stands */
        break;
    default: break;
    }
}

/* Unstuffs and checks by itself, plainly, on the host's side of the device's receiver. */
static void stretch_ends(void)
{
    uint8_t out[FRAME_STUFFED_MAX + 1];
    unsigned n = 0, at = 0, length = w.length;
    uint8_t good = !w.too_long && length;
    w.length = w.too_long = w.payload_length = 0;
    while (good && at < length) {
        uint8_t code = w.stretch[at++];
        for (uint8_t i = 1; i < code; i++) {
            if (at == length) { good = 0; break; }
            out[n++] = w.stretch[at++];
        }
        if (good && at < length) out[n++] = 0;
    }
    uint16_t crc = 0xFFFF;
    for (unsigned i = 0; i + 2 < n; i++) {
        crc ^= (uint16_t)(out[i] << 8);
        for (int b = 0; b < 8; b++) crc = (uint16_t)(crc & 0x8000 ? crc << 1 ^ 0x1021 : crc << 1);
    }
    if (!good || n < 3 || crc != (out[n - 2] | out[n - 1] << 8)) return;
    unsigned payload = n - 2;
    if (out[0] == MSG_KEEP_ALIVE) life(out, payload);
    else if (out[0] >= MSG_COMMAND_FIRST && out[0] <= MSG_COMMAND_LAST && out[0] != MSG_ACKNOWLEDGE_EVENT) {
        w.payload_length = (uint8_t)payload;
        memcpy(w.payload, out, payload < sizeof w.payload ? payload : sizeof w.payload);
    }
}

static void stands(void)
{
    w.allowed = 0;
    if (w.way && !w.releasing) w.last_direction = w.way;
    w.way = 0;
    w.releasing = 0;
}

static void witness_byte(uint8_t byte)
{
    uint8_t was = motion_state();
    uint16_t room = bench.room_each ? bench.room : UINT16_MAX;
    w.answers = 0;
    if (byte) {
        if (w.length < sizeof w.stretch) w.stretch[w.length++] = byte; else w.too_long = 1;
        w.payload_length = 0;
    } else stretch_ends();
    device_byte(byte);
    CHECK_EQUAL(w.payload_length && room >= 14, w.answers);
    if (w.payload_length) command_taken(was);
    if (motion_state() == MOTION_STILL) stands();
}

static void samples(const uint8_t *b, unsigned length)
{
    uint8_t n = b[33];
    uint32_t first = get32(b + 17);
    CHECK(length >= SAMPLES_HEAD && n <= 40);
    CHECK_EQUAL(SAMPLES_HEAD + SAMPLE_BYTES * n, length);
    CHECK_EQUAL(bench_traits.boot_number, get32(b + 1));
    CHECK((int32_t)(first - w.next_number) >= 0);
    if (first != w.next_number) CHECK(w.gap_allowed || (b[8] & STATE_BLOCKS_DROPPED));
    if (!n) CHECK_EQUAL(w.conversions, first);
    CHECK(first + n <= w.conversions + 1);               /* one is on its way into the history */
    if (n) {
        w.next_number = first + n;
        w.gap_allowed = !w.streaming;
    }
    CHECK(first >= w.counted_anew_at || first + n <= w.counted_anew_at);    /* positions of one counting only */
    int32_t steps = (int32_t)get32(b + 29);
    for (unsigned k = 0; k < n && first + k < w.conversions; k++) {
        const uint8_t *s = b + SAMPLES_HEAD + SAMPLE_BYTES * k;
        conversion_t was = history[(first + k) % HISTORY];
        steps += (int16_t)get16(s + 3);
        CHECK_EQUAL(was.counts, (int32_t)get16(s) | (int32_t)(int8_t)s[2] * 65536);
        CHECK_EQUAL(was.steps, steps);
    }
    if (bench.room_each) CHECK(bench.room >= 40);        /* kept free for answers and events */
    w.state_at = bench.milliseconds;
}

static void witness_frame(const bench_frame_t *f)
{
    const uint8_t *b = f->bytes;
    switch (b[0]) {
    case MSG_HELLO: CHECK_EQUAL(59 + b[58], f->length); CHECK_EQUAL(bench_traits.boot_number, get32(b + 3)); break;
    case MSG_SAMPLES: samples(b, f->length); break;
    case MSG_ANSWER: CHECK_EQUAL(9, f->length); w.answers++; break;
    case MSG_EVENT: {
        uint16_t number = get16(b + 1);
        CHECK_EQUAL(12, f->length);
        CHECK(number && (!w.event_seen || (int16_t)(number - w.event_number) >= 0));
        w.event_number = number;
        w.event_seen = 1;
        break; }
    default: CHECK(!"a type that no device sends");
    }
}

static void witness_step(void)
{
    int32_t position = stepper.position;
    uint8_t homing = w.homing || motion_state() == MOTION_HOMING;
    CHECK(w.allowed && w.limits.id);
    CHECK(alive_for() <= 500);
    w.position += bench.direction;
    CHECK(!is_unsafe());
    CHECK(!is_bad(bench.direction > 0 ? UPPER : LOWER));
    CHECK(!(w.opened[1] && is_bad(UPPER)));              /* also behind the motion: the drive runs the wrong way */
    if (!homing) CHECK(!(w.opened[0] && is_bad(LOWER)));
    CHECK(bench.milliseconds - w.looped_at <= 22);       /* a hung program moves nothing */
    if (w.releasing) {                                   /* back, 5 mm in all, and no longer than 300 ms after it was asked for */
        CHECK_EQUAL(-w.last_direction, bench.direction);
        CHECK(w.position - w.release_from <= 2000 && w.position - w.release_from >= -2000);
        CHECK((int32_t)(w.looped_at - w.released_at) <= 302);
    } else {
        w.way = bench.direction;
    }
    if (!w.releasing) CHECK((int32_t)(w.looped_at - w.converted_at) <= (int32_t)(2u + 5u + (5u * period() / 2u + 999u) / 1000u));
    if (!homing) CHECK(bench.direction > 0 ? position <= w.limits.travel_max : position >= w.limits.travel_min);
    CHECK(!too_long());
    if (w.way_back && !homing && !(w.releasing && !converter_sound()) && side(counts_ago(0)) == w.way_back && side(counts_ago(1)) == w.way_back) {
        int32_t further = w.way_back > 0 ? counts_ago(0) - w.way_back_from : w.way_back_from - counts_ago(0);
        int32_t before = w.way_back > 0 ? counts_ago(1) - w.way_back_from : w.way_back_from - counts_ago(1);
        int32_t share = (int32_t)(((uint32_t)w.limits.force_max - (uint32_t)w.limits.force_min) / 32u);
        CHECK(further <= share || before <= share);
    } else if (w.way_back && !side(counts_ago(0)) && !side(counts_ago(1))) {
        w.way_back = 0;
        w.clean_start = 1;
    }
}

/* No two conversions of a block alike, so that one with another's number shows. */
static int32_t witness_counts(int32_t counts)
{
    return counts > COUNTS_MAX - 64 || counts < COUNTS_MIN + 64 ? counts : counts + (int32_t)(w.conversions % 61u);
}

/* What cannot be: too soon (then it is none), too late, at an end of the range. And what is the same for ever. */
static uint8_t is_conversion(void)
{
    uint32_t apart = now() - w.counted_at;
    uint8_t first = !w.conversions, early = !first && apart < period() / 2u;
    uint8_t late = !first && apart > period() + period() / 2u && apart < 2000000u;
    uint8_t end = bench.converted >= COUNTS_MAX || bench.converted <= COUNTS_MIN;
    if ((int32_t)(w.looped_at - w.started_at) > 1000) {
        w.doubts = w.doubts << 1 | (early || late || end);
        if (w.doubts_known < 12) w.doubts_known++;
    }
    if (w.doubts_known == 12 && __builtin_popcount(w.doubts & 0xFFFu) >= 8) CHECK(device.faults & FAULT_CONVERTER);
    if (early) return 0;
    w.counted_at = now();
    if (!first && now() - w.judged_at < 750u) return 1;
    w.judged_at = now();
    w.equal = !first && bench.converted == counts_ago(0) ? w.equal + 1 : 0;
    w.judged[w.judged_count++ % 8u] = bench.converted;
    if (w.equal >= bench_traits.converter_frozen_readings && (int32_t)(w.looped_at - w.started_at) > 1002) CHECK(device.faults & FAULT_CONVERTER);
    return 1;
}

static void witness_conversion(void)
{
    if (!is_conversion()) return;
    history[w.conversions % HISTORY] = (conversion_t){ bench.converted, stepper_position() };
    w.conversions++;
    w.converted_at = bench.milliseconds;
    uint8_t two = side(counts_ago(0)) && side(counts_ago(1)), fault = (device.faults & FAULT_FORCE) != 0;
    if (w.limits.id && w.clean_start && two && !w.releasing) CHECK_EQUAL(MOTION_STILL, motion_state());
    if (fault && !w.was_fault_force)                     /* one alone never is an overload: two in a row are, or three of five */
        CHECK(two || (side(counts_ago(0)) && !!side(counts_ago(2)) + !!side(counts_ago(3)) + !!side(counts_ago(4)) >= 1));
    w.was_fault_force = fault;
    if (!w.streaming) w.gap_allowed = 1;
}

static void witness_inputs(uint8_t raw)
{
    uint8_t have = stepper.checked;
    const uint8_t bad[INPUTS] = { have & ~raw & INPUT_GUARD_CLOSED, have & ~raw & INPUT_EMERGENCY_STOP_RELEASED,
                                  have & raw & INPUT_LOWER_LIMIT, have & raw & INPUT_UPPER_LIMIT, raw & INPUT_DRIVER_FAULT };
    for (unsigned i = 0; i < INPUTS; i++) {
        if (bad[i]) { w.inputs[i].bad++; w.inputs[i].good = 0; }
        else if (++w.inputs[i].good >= FORGOTTEN) w.inputs[i].bad = 0;
    }
    for (unsigned i = 0; i < 2; i++) if (!w.inputs[LOWER + i].bad) w.opened[i] = 1;
}

static void witness_millisecond(void)
{
    uint32_t late = bench.milliseconds - w.looped_at - 1u;       /* the loop hung: its own clocks stood still */
    uint32_t *const clocks[] = { &w.state_at, &w.converted_at, &w.moving_since, &w.released_at };
    for (unsigned i = 0; i < 4; i++) {
        if (*clocks[i] <= w.looped_at) *clocks[i] += late;
        else if (late && *clocks[i] < bench.milliseconds) *clocks[i] = bench.milliseconds - 1u;      /* set between two hangs: all since then was one */
    }
    w.looped_at = bench.milliseconds;
    w.started_at += late;
    if (bench.powered) {
        CHECK(w.limits.id);
        CHECK(alive_for() <= 501 && !is_bad(EMERGENCY_STOP) && !is_bad(DRIVER));
    }
    if (bench.feeding_left) {
        CHECK_EQUAL(MOTION_FEEDING, motion_state());
        CHECK(alive_for() <= 501 && !is_unsafe());
        CHECK(!too_long());
    }
    if (device.faults & ~(w.releasing ? TO_RELEASE : 0)) CHECK_EQUAL(MOTION_STILL, motion_state());
    if (motion_state() == MOTION_STILL) { stands(); CHECK_EQUAL(0, stepper.rate); }
    if (is_bad(EMERGENCY_STOP)) CHECK(device.faults & FAULT_EMERGENCY_STOP);
    uint32_t silence = (4u * period() + 999u) / 1000u + 20u;
    if (bench.milliseconds - w.converted_at > silence + 2u && bench.milliseconds - w.started_at > 1002u + silence)
        CHECK(device.faults & FAULT_CONVERTER);

    if (!late) CHECK(bench.steps - w.steps_before <= w.limits.speed_max / 1000u + 2u);
    w.steps_before = bench.steps;
    int32_t offset = w.position - stepper_position();
    if (offset != w.offset) {                            /* the counting changes by homing only */
        CHECK(w.homing);
        w.counted_anew_at = w.conversions;
    }
    w.offset = offset;
    if (!bench.room_each) CHECK(bench.milliseconds - w.state_at <= 100);
    CHECK_EQUAL(0, bench.bad);
}

void witness_start(void)
{
    memset(&w, 0, sizeof w);
    w.started_at = w.state_at = w.converted_at = w.looped_at = bench.milliseconds;
    w.steps_before = bench.steps;
    w.gap_allowed = 1;
}

void witness_hooks(void)
{
    bench_hooks = (bench_hooks_t){ .to_device = witness_byte, .frame = witness_frame, .step = witness_step, .inputs = witness_inputs, .counts = witness_counts,
                                   .conversion = witness_conversion, .millisecond = witness_millisecond };
}
