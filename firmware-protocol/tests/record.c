#include "record.h"
#include "bench.h"
#include "fuzz_device.h"

/* An input of libFuzzer's usual length. */
#define LENGTH_MAX 1000u

static FILE *file;
static bench_t told;
static unsigned length;

static void put(unsigned byte) { if (file && length < LENGTH_MAX) { fprintf(file, "%02X", byte & 0xFFu); length++; } }
static void op(unsigned what, unsigned n) { put(what | n << 3); }

void record_end(void) { if (file && length) fputc('\n', file); length = 0; }

void record_start(void)
{
    const char *path = getenv("RIG_RECORD");
    if (!path) return;
    if (!file) file = fopen(path, "w");
    record_end();
    put(0);                                    /* a device that can do everything */
    memcpy(&told, &bench, offsetof(bench_t, frames));
    told.keep_alive = 0;
}

static void changed(uint32_t was, uint32_t is, unsigned what, unsigned bytes)
{
    if (was == is) return;
    op(FUZZ_WORLD, what);
    for (; bytes--; is >>= 8) put(is);
}

void record_world(void)
{
    if (!file) return;
    changed(told.keep_alive, bench.keep_alive, FUZZ_KEEP_ALIVE, 1);
    changed(told.conversion_every, bench.conversion_every, FUZZ_CONVERTER, 1);
    changed(told.room_each, bench.room_each, FUZZ_ROOM, 1);
    changed((uint32_t)told.lower_switch, (uint32_t)bench.lower_switch, FUZZ_LOWER, 2);
    changed((uint32_t)told.counts_per_step, (uint32_t)bench.counts_per_step / 100u, FUZZ_SPRING, 1);
    changed(told.inputs, bench.inputs, FUZZ_INPUTS, 1);
    changed(told.frozen, bench.frozen, FUZZ_FREEZE, 1);
    changed(told.per_tick, bench.per_tick, FUZZ_LOW, 1);
    changed(told.skip_each, bench.skip_each, FUZZ_STARVE, 1);
    changed(told.reversed, bench.reversed, FUZZ_REVERSE, 1);
    changed((uint32_t)told.upper_switch, (uint32_t)bench.upper_switch, FUZZ_UPPER, 2);
    if (told.chatter != bench.chatter) {
        op(FUZZ_WORLD, FUZZ_CHATTER);
        put(bench.chatter);
        put(bench.chatter_on - 1u);
        put((bench.chatter_off - 1u) / 2u);
    }
    if (!bench.counts_per_step) changed((uint32_t)told.counts, (uint32_t)bench.counts, FUZZ_COUNTS, 3);
    memcpy(&told, &bench, offsetof(bench_t, frames));
}

void record_run(unsigned milliseconds)
{
    for (; milliseconds >= 1024; milliseconds -= 1024) op(FUZZ_RUN_LONG, 31);
    if (milliseconds >= 32) op(FUZZ_RUN_LONG, milliseconds / 32 - 1);
    if (milliseconds % 32) op(FUZZ_RUN, milliseconds % 32 - 1);
}

void record_send(const uint8_t *payload, unsigned size)
{
    if (size < 2 || size > 33) return;
    op(FUZZ_FRAMED, size - 2);
    while (size--) put(*payload++);
}
