/* The whole device, fed from a string of bytes: hostile and honest frames, time, inputs, forces, room on the line, restarts. The witness
 * says what must hold. A libFuzzer target (make fuzz); fuzz_run.c runs it without clang. */
#include "bench.h"
#include "fuzz_device.h"
#include "witness.h"

/* So that an input costs milliseconds, not seconds. */
#define SIMULATED_MILLISECONDS_MAX 8000u

static const uint8_t *at, *end;
static uint8_t byte(void)   { return (uint8_t)(at < end ? *at++ : 0); }
static uint16_t word(void)  { uint16_t low = byte(); return (uint16_t)(low | byte() << 8); }
static void run(unsigned ms) { if (bench.milliseconds < SIMULATED_MILLISECONDS_MAX) bench_run(ms); }

/* A host that missed a restart, once. */
static uint8_t stale;

/* Fills in what a host would know: the next number, this start's boot number, the limits in force. */
static void honest(uint8_t type, unsigned length)
{
    uint8_t p[48] = { type };
    unsigned n = 1;
    uint32_t boot = bench_traits.boot_number ^ stale;
    stale = 0;
    if (type == MSG_KEEP_ALIVE || type == MSG_ACKNOWLEDGE_EVENT) {
        put32(p + 1, boot);
        n = 5;
    } else {
        put16(p + 1, bench.next_command++);
        n = 3;
        if (type == MSG_MOVE || type == MSG_HOME || type == MSG_FEED || type == MSG_CLEAR_FAULTS) {
            put32(p + 3, boot);
            n = 7;
            if (type != MSG_CLEAR_FAULTS) { put16(p + 7, device.limits.id); n = 9; }
        }
    }
    while (length-- && n < sizeof p) p[n++] = byte();
    bench_send(p, (uint8_t)n);
}

static void framed(unsigned length)
{
    uint8_t p[40];
    for (unsigned i = 0; i < length; i++) p[i] = byte();
    bench_send(p, (uint8_t)length);
}

static void acknowledge(void)
{
    const bench_frame_t *event = bench_last(MSG_EVENT);
    uint8_t p[7] = { MSG_ACKNOWLEDGE_EVENT };
    if (!event) return;
    memcpy(put32(p + 1, bench_traits.boot_number), event->bytes + 1, 2);
    bench_send(p, sizeof p);
}

static void world(unsigned what)
{
    switch (what) {
    case FUZZ_KEEP_ALIVE: bench.keep_alive = byte() & 1; break;
    case FUZZ_CONVERTER:  bench.conversion_every = byte(); break;
    case FUZZ_ROOM:       bench.room_each = byte(); bench.room = 0; break;
    case FUZZ_LOWER:      bench.lower_switch = (int16_t)word(); break;
    case FUZZ_SPRING:     bench.counts_per_step = (int8_t)byte() * 100; break;
    case FUZZ_RESTART:    bench_restart(byte() & 1); witness_start(); break;
    case FUZZ_NUMBER:     bench.next_command = word(); break;
    case FUZZ_ACKNOWLEDGE: acknowledge(); break;
    case FUZZ_INPUTS:     bench.inputs = byte() & 0x8F; break;
    case FUZZ_COUNTS:     bench.counts = (int32_t)((uint32_t)word() << 8) >> 8; bench.counts += (int8_t)byte() * 65536; break;
    case FUZZ_WILD: {     /* one conversion, and back */
        int32_t was = bench.counts;
        bench.counts = (int8_t)byte() * 65536;
        run(bench.conversion_every);
        bench.counts = was;
        break; }
    case FUZZ_LIMITS:     bench_limits((uint16_t)(1u + byte()), -1000 * (int32_t)(1u + byte()), 8000 * (int32_t)(1u + byte()), -400, 1 + word() % 60000); break;
    case FUZZ_MOVE:       bench_move(byte() & 1, (int16_t)word() / 4, (int16_t)word()); break;
    case FUZZ_HOME:       bench_home(1u + word() / 8u); break;
    case FUZZ_CLEAR:      bench_clear(0xFFFF); break;
    case FUZZ_FEED:       bench_feed(); break;
    case FUZZ_STALE:      stale = 1; break;
    case FUZZ_TIME:       bench.time_max = word(); break;
    case FUZZ_CHATTER:
        bench.chatter = byte() & 0x8F;
        bench.chatter_on = (uint16_t)(1u + byte());
        bench.chatter_off = (uint16_t)(1u + 2u * byte());
        break;
    case FUZZ_RELEASE:    bench_move(MOVE_RELEASE, (int8_t)byte() * 4, 0); break;
    case FUZZ_FREEZE:     bench.frozen = byte() & 1; break;
    case FUZZ_LOW:        bench.per_tick = byte(); break;
    case FUZZ_STARVE:     bench.skip_each = byte() & 15; break;
    case FUZZ_REVERSE:    bench.reversed = byte() & 1; break;
    case FUZZ_UPPER:      bench.upper_switch = (int16_t)word(); break;
    case FUZZ_HANG:       bench.hung = 1; run(1u + byte()); bench.hung = 0; break;
    case FUZZ_STREAM:     bench_stream(byte() & 1); break;
    default:              bench_stop(byte() & 1); break;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const uint32_t without[4] = { 0, CAN_GUARD, CAN_HOMING, CAN_MOTION | CAN_POSITION | CAN_GUARD | CAN_EMERGENCY_STOP | CAN_TRAVEL_LIMITS | CAN_HOMING };
    static uint32_t can_all;
    at = data;
    end = data + size;
    if (!can_all) can_all = bench_traits.capabilities;
    stale = 0;
    witness_hooks();
    bench_clear_all();
    uint8_t kind = byte();
    bench_traits.feeder = kind & 4 ? &bench_feeder : NULL;
    bench_traits.capabilities = (can_all | (kind & 4 ? CAN_FEEDER : 0)) & ~without[kind & 3];
    bench.magazine = 2;
    static const uint16_t every[4] = { 12, 1, 100, 2 };
    bench.conversion_every = every[kind >> 3 & 3];
    bench_traits.converter_rate_millihertz = kind & 24 ? 1000000u / bench.conversion_every : 80000u;
    device_start(&bench_traits, bench.inputs, 0);
    witness_start();
    while (at < end) {
        unsigned op = byte(), n = op >> 3;
        switch (op & 7) {
        case FUZZ_RUN:      run(n + 1); break;
        case FUZZ_RUN_LONG: run(32 * (n + 1)); break;
        case FUZZ_RAW:      for (n++; n-- && at < end; ) bench_hooks.to_device(*at++); break;
        case FUZZ_FRAMED:   framed(n + 2); break;
        case FUZZ_HONEST:   honest((uint8_t)(0x40 | (byte() & 0x0F)), n); break;
        default:            world(n); break;
        }
        if (bench.count > BENCH_FRAMES_MAX / 2) bench.count = 0;
    }
    bench_traits.capabilities = can_all;
    bench_traits.feeder = NULL;
    return 0;
}
