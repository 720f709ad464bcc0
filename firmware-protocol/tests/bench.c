#include "bench.h"
#include "record.h"

bench_t bench;
const char *bench_test = "";
unsigned bench_checks;
bench_hooks_t bench_hooks;
traits_t bench_traits = {
    .device_id = 0x0123456789ABCDEF, .boot_number = BENCH_BOOT, .firmware_version = 258,
    .capabilities = CAN_MOTION | CAN_POSITION | CAN_GUARD | CAN_EMERGENCY_STOP | CAN_TRAVEL_LIMITS | CAN_HOMING,
    .converter_rate_millihertz = 80000, .converter_bits = 24, .converter_delay_microseconds = 6250, .converter_frozen_readings = 8, .steps_per_metre = 400000,
    .force_min = -8000000, .force_max = 8000000, .travel_min = -400, .travel_max = 60000, .speed_max = 8000, .acceleration_max = 40000,
    .home_clearance = 20, .name = "Bench rig",
};

/* ---- the port ---- */
static uint8_t line[FRAME_STUFFED_MAX + 1];
static unsigned line_length;

/* Plain and slow, and no code of the core: what is checked must not check itself. */
static void line_ends(void)
{
    if (!line_length) { bench.zeros_first += !bench.count; return; }
    uint8_t out[FRAME_STUFFED_MAX + 1];
    unsigned n = 0, at = 0;
    while (at < line_length) {
        uint8_t code = line[at++];
        for (uint8_t i = 1; i < code && at < line_length; i++) out[n++] = line[at++];
        if (at < line_length) out[n++] = 0;
    }
    line_length = 0;
    uint16_t crc = 0xFFFF;
    for (unsigned i = 0; i + 2 < n; i++) {
        crc ^= (uint16_t)(out[i] << 8);
        for (int b = 0; b < 8; b++) crc = (uint16_t)(crc & 0x8000 ? crc << 1 ^ 0x1021 : crc << 1);
    }
    if (n < 3 || crc != (out[n - 2] | out[n - 1] << 8) || bench.count == BENCH_FRAMES_MAX) { bench.bad++; return; }
    bench_frame_t *f = &bench.frames[bench.count++];
    memcpy(f->bytes, out, n - 2);
    f->length = (uint8_t)(n - 2);
    f->at_millisecond = bench.milliseconds;
    if (bench_hooks.frame) bench_hooks.frame(f);
}

uint16_t port_transmit_room(void) { return bench.room_each ? bench.room : 10000; }
void port_transmit(uint8_t byte)
{
    if (bench.room_each) { CHECK(bench.room > 0); bench.room--; }
    if (bench_hooks.from_device) bench_hooks.from_device(byte);
    if (!byte) line_ends();
    else { CHECK(line_length < sizeof line); line[line_length++] = byte; }
}
uint32_t port_microseconds(void)            { return stepper.ticks * MICROSECONDS_PER_TICK; }
void     port_motor_power(uint8_t on)       { bench.powered = on; }
static uint32_t direction_since;
void     port_direction(int8_t direction)   { bench.direction = direction; direction_since = stepper.ticks; }
uint8_t  port_lock(void)                    { return 0; }
void     port_unlock(uint8_t before)        { (void)before; }

/* ---- the feeder ---- */
static void    feeder_begin(void)  { bench.feeding_left = BENCH_FEEDING_MILLISECONDS; bench.fed = 0; }
static void    feeder_stop(void)   { bench.feeding_left = 0; }
static uint8_t feeder_inputs(void) { return (uint8_t)((bench.fed ? INPUT_SPECIMEN_LOADED : 0) | (bench.magazine ? 0 : INPUT_FEEDER_EMPTY)); }
static uint8_t feeder_work(void)
{
    CHECK(bench.powered && bench.feeding_left);
    if (--bench.feeding_left) return FEEDER_WORKS;
    if (!bench.magazine) return FEEDER_EMPTY;
    bench.magazine--;
    bench.fed = 1;
    return FEEDER_LOADED;
}
const feeder_t bench_feeder = { feeder_begin, feeder_work, feeder_stop, feeder_inputs };

/* ---- time ---- */
static uint32_t ticks_gone;
static uint8_t inputs_now(void)
{
    uint8_t inputs = (uint8_t)(bench.inputs | (bench.true_position <= bench.lower_switch ? INPUT_LOWER_LIMIT : 0)
                               | (bench.true_position >= bench.upper_switch ? INPUT_UPPER_LIMIT : 0));
    if (bench.chatter && ticks_gone % ((unsigned)bench.chatter_on + bench.chatter_off) < bench.chatter_on) inputs ^= bench.chatter;
    return inputs;
}

static void convert(void)
{
    bench.conversions++;
    if (bench.skip_each && bench.conversions % bench.skip_each == 0) return;
    bench.converted = bench.counts;
    uint8_t at_end = bench.counts >= COUNTS_MAX || bench.counts <= COUNTS_MIN;
    if (!bench.frozen && (bench_hooks.counts || !at_end)) bench.converted = bench_hooks.counts ? bench_hooks.counts(bench.counts) : bench.counts ^ (int32_t)((bench.conversions ^ bench.conversions >> 3) & 1u);
    device_conversion(bench.converted, port_microseconds(), stepper_position());
    if (bench_hooks.conversion) bench_hooks.conversion();
}

static uint8_t running;
void bench_run(unsigned milliseconds)
{
    record_world();
    record_run(milliseconds);
    running = 1;
    while (milliseconds--) {
        bench.milliseconds++;
        if (bench.room_each) {
            bench.room = (uint16_t)(bench.room + bench.room_each);
            if (bench.room > BENCH_BUFFER) bench.room = BENCH_BUFFER;
        }
        for (unsigned i = 0; i < TICKS_PER_MILLISECOND; i++) {
            uint8_t raw = inputs_now();
            ticks_gone++;
            if (bench_hooks.inputs) bench_hooks.inputs(raw);
            uint8_t answer = stepper_tick(&stepper, raw);
            if (answer & TICK_POWER_OFF) bench.powered = 0;
            if (answer & TICK_STEP) {
                CHECK(bench.powered);
                CHECK(stepper.ticks - direction_since >= 2);         /* the driver's set-up time: 50 µs at least */
                bench.true_position += bench.reversed ? -bench.direction : bench.direction;
                bench.steps++;
                bench.last_step_at = bench.milliseconds;
                if (bench_hooks.step) bench_hooks.step();
            }
            if (bench.per_tick && ticks_gone % bench.per_tick == 0 && !bench.hung) convert();
        }
        if (bench.hung) continue;
        if (bench.keep_alive && bench.milliseconds % 100 == 0) {
            uint8_t p[7] = { MSG_KEEP_ALIVE };
            put16(put32(p + 1, bench_traits.boot_number), ++bench.counter);
            bench_send(p, sizeof p);
        }
        if (bench.counts_per_step) bench.counts = bench.true_position * bench.counts_per_step;
        if (bench.counts > COUNTS_MAX) bench.counts = COUNTS_MAX;     /* a converter of 24 bits gives no more */
        if (bench.counts < COUNTS_MIN) bench.counts = COUNTS_MIN;
        if (bench.conversion_every && bench.milliseconds % bench.conversion_every == 0) convert();
        device_millisecond();
        if (bench_hooks.millisecond) bench_hooks.millisecond();
    }
    running = 0;
}

void bench_restart(uint8_t by_watchdog)
{
    bench_traits.boot_number = bench_traits.boot_number == BENCH_BOOT ? BENCH_BOOT + 1 : BENCH_BOOT;
    bench.room = BENCH_BUFFER;                 /* a reset empties the transmitter */
    device_start(&bench_traits, inputs_now(), by_watchdog);
}

void bench_clear_all(void)
{
    memset(&bench, 0, offsetof(bench_t, frames));
    line_length = 0;
    bench.inputs = BENCH_INPUTS_GOOD;
    bench.conversion_every = 12;
    bench.counts = 84000;
    bench.lower_switch = INT32_MIN;
    bench.upper_switch = INT32_MAX;
    bench_traits.converter_rate_millihertz = 80000;
    ticks_gone = 0;
    bench.next_command = 1;
    bench.time_max = 20000;
    bench_traits.boot_number = BENCH_BOOT;
}

static unsigned next_every;
void bench_converter(unsigned every_milliseconds) { next_every = every_milliseconds; }

void bench_start(void)
{
    bench_clear_all();
    record_start();
    if (next_every) {
        bench.conversion_every = (uint16_t)next_every;
        bench_traits.converter_rate_millihertz = 1000000u / next_every;
        next_every = 0;
    }
    bench.keep_alive = 1;
    device_start(&bench_traits, inputs_now(), 0);
    bench_run(1100);
    bench_acknowledge_all();
}

/* ---- the host ---- */
static void to_device(uint8_t byte) { (bench_hooks.to_device ? bench_hooks.to_device : device_byte)(byte); }
void bench_send(const uint8_t *payload, uint8_t length)
{
    if (!running) { record_world(); record_send(payload, length); }
    frame_send(payload, length, to_device);
}

int bench_command(uint8_t *payload, uint8_t length)
{
    uint16_t number = bench.next_command++;
    put16(payload + 1, number);
    unsigned before = bench.count;
    bench_send(payload, length);
    for (unsigned i = before; i < bench.count; i++) {
        const uint8_t *b = bench.frames[i].bytes;
        if (b[0] == MSG_ANSWER && get16(b + 1) == number && b[3] == payload[0]) return b[4];
    }
    return -1;
}

int bench_limits(uint16_t id, int32_t force_min, int32_t force_max, int32_t travel_min, int32_t travel_max)
{
    uint8_t p[33] = { MSG_SET_LIMITS }, *q = put16(p + 3, id);
    q = put32(put32(q, (uint32_t)force_min), (uint32_t)force_max);
    q = put32(put32(q, (uint32_t)travel_min), (uint32_t)travel_max);
    put32(put32(put32(q, 8000), 40000), bench.time_max);
    return bench_command(p, sizeof p);
}

static uint8_t *motion_head(uint8_t *p, uint8_t type)
{
    p[0] = type;
    return put16(put32(p + 3, bench_traits.boot_number), device.limits.id);
}

int bench_move(uint8_t kind, int32_t speed, int32_t target)
{
    uint8_t p[22], *q = motion_head(p, MSG_MOVE);
    *q++ = kind;
    put32(put32(put32(q, (uint32_t)speed), 20000), (uint32_t)target);
    return bench_command(p, sizeof p);
}
int bench_feed(void)              { uint8_t p[9]; motion_head(p, MSG_FEED); return bench_command(p, sizeof p); }
int bench_stop(uint8_t at_once)   { uint8_t p[4] = { MSG_STOP, 0, 0, at_once }; return bench_command(p, sizeof p); }
int bench_home(uint32_t speed)    { uint8_t p[13]; put32(motion_head(p, MSG_HOME), speed); return bench_command(p, sizeof p); }
int bench_clear(uint16_t faults)
{
    uint8_t p[9] = { MSG_CLEAR_FAULTS };
    put16(put32(p + 3, bench_traits.boot_number), faults);
    return bench_command(p, sizeof p);
}
int bench_stream(uint8_t on)      { uint8_t p[8] = { MSG_STREAM, 0, 0, on }; return bench_command(p, sizeof p); }

void bench_acknowledge_all(void)
{
    for (int i = 0; i < 64; i++) {
        bench_run(1);
        const bench_frame_t *event = bench_last(MSG_EVENT);
        if (!event) return;
        uint8_t p[7] = { MSG_ACKNOWLEDGE_EVENT };
        memcpy(put32(p + 1, bench_traits.boot_number), event->bytes + 1, 2);
        bench_send(p, sizeof p);
    }
}

/* ---- what came ---- */
const bench_frame_t *bench_last(uint8_t type)
{
    for (unsigned i = bench.count; i--;) if (bench.frames[i].bytes[0] == type) return &bench.frames[i];
    return NULL;
}
unsigned bench_frames_of(uint8_t type)
{
    unsigned n = 0;
    for (unsigned i = 0; i < bench.count; i++) n += bench.frames[i].bytes[0] == type;
    return n;
}
unsigned bench_events_of(uint8_t code)
{
    unsigned n = 0;
    uint16_t last = 0;
    for (unsigned i = 0; i < bench.count; i++) {
        const uint8_t *b = bench.frames[i].bytes;
        if (b[0] != MSG_EVENT || get16(b + 1) == last) continue;
        last = get16(b + 1);
        n += b[3] == code;
    }
    return n;
}
int bench_state_at(uint8_t offset)
{
    const bench_frame_t *block = bench_last(MSG_SAMPLES);
    CHECK(block);
    return get16(block->bytes + offset);
}
