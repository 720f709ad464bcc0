/* The whole device against any bytes from the line, any inputs and any forces. As a libFuzzer target:
 *     clang -fsanitize=fuzzer,address,undefined -DLIBFUZZER -Icore -Itests tests/fuzz_device.c tests/bench.c core/[a-z]*.c
 * and, where there is no clang, a driver of its own: mutated and random inputs for so many seconds from a seed that it prints. */
#include <time.h>
#include "bench.h"
#include "motion.h"

/* What must hold whatever came in. */
static void invariants(uint32_t steps_before)
{
    CHECK_EQUAL(0, bench.bad);
    CHECK(device.stepper.position >= INT32_MIN / 2 && device.stepper.position <= INT32_MAX / 2);
    if (!device.limits.id) CHECK_EQUAL(steps_before, bench.steps);
    if (device.faults) CHECK_EQUAL(MOTION_STILL, motion_state());
    if (motion_state() == MOTION_STILL) CHECK_EQUAL(0, device.stepper.rate);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    memset(&bench, 0, sizeof bench);
    bench.inputs = BENCH_INPUTS_GOOD;
    bench.conversion_every = 12;
    bench.counts = 84000;
    bench.lower_switch = INT32_MIN;
    bench_traits.boot_number = BENCH_BOOT;
    device_start(&bench_traits, bench.inputs, 0);
    for (size_t i = 0; i < size; ) {
        uint8_t op = data[i++], n = (uint8_t)(op & 0x3F);
        uint32_t steps = bench.steps;
        switch (op >> 6) {
        case 0: bench_run(n); break;
        case 1: if (i < size) { bench.inputs = (uint8_t)(data[i++] & 0x8F); bench.counts += (n - 32) * 10000; bench_run(3); } break;
        case 2: while (n-- && i < size) device_byte(data[i++]); break;              /* raw bytes */
        default: {                                                                  /* a good frame */
            uint8_t payload[64], length = 0;
            while (length < n && i < size) payload[length++] = data[i++];
            if (length) bench_send(payload, length);
        } }
        invariants(steps);
        if (bench.count > BENCH_FRAMES_MAX / 2) bench.count = 0;
    }
    return 0;
}

#ifndef LIBFUZZER
static uint32_t random_state;
static uint32_t random_next(void)
{
    random_state ^= random_state << 13; random_state ^= random_state >> 17; random_state ^= random_state << 5;
    return random_state;
}

/* Frames that mean something, so that the deep states are met: the wire's commands with fields that are near to right. */
static size_t make(uint8_t *out, size_t room)
{
    size_t n = 0;
    uint16_t number = (uint16_t)random_next();
    while (n + 64 < room && random_next() % 40) {
        uint8_t p[40] = { 0 }, length = 0;
        uint8_t type = (uint8_t)(0x41 + random_next() % 10);
        number = (uint16_t)(number + (random_next() % 8 ? 1 : random_next() % 3));
        uint32_t boot = random_next() % 16 ? BENCH_BOOT : random_next();
        p[0] = type;
        put16(p + 1, number);
        switch (type) {
        case MSG_KEEP_ALIVE: put16(put32(p + 1, boot), number); length = 7; break;
        case MSG_SET_LIMITS:
            put16(p + 3, 7);
            put32(put32(put32(put32(p + 5, (uint32_t)-50000), 300000), (uint32_t)-400), 1 + random_next() % 60000);
            put32(put32(put32(p + 21, 8000), 40000), random_next() % 30000);
            length = 33; break;
        case MSG_MOVE:
            put16(put32(p + 3, boot), 7);
            p[9] = (uint8_t)(random_next() % 3);
            put32(put32(put32(p + 10, random_next() % 16001 - 8000), 1 + random_next() % 40000), random_next() % 60000);
            length = 22; break;
        case MSG_HOME: put32(put16(put32(p + 3, boot), 7), random_next() % 2000); length = 13; break;
        case MSG_ACKNOWLEDGE_EVENT: put16(put32(p + 1, boot), (uint16_t)(random_next() % 64)); length = 7; break;
        case MSG_CLEAR_FAULTS: case MSG_FEED: put16(put32(p + 3, boot), 0xFFFF); length = 9; break;
        case MSG_STREAM: p[3] = 1; length = 8; break;
        default: length = 4; break;
        }
        if (random_next() % 64 == 0) p[random_next() % length] ^= (uint8_t)(1u << random_next() % 8);
        if (random_next() % 64 == 0) length = (uint8_t)(1 + random_next() % length);
        out[n++] = (uint8_t)(0xC0 | length);
        memcpy(out + n, p, length);
        n += length;
        if (random_next() % 2) out[n++] = (uint8_t)(random_next() % 64);            /* time goes on */
        if (random_next() % 16 == 0) { out[n++] = (uint8_t)(0x40 | random_next() % 64); out[n++] = random_next() % 3 ? BENCH_INPUTS_GOOD : (uint8_t)random_next(); }
    }
    return n;
}

int main(int argc, char **argv)
{
    int seconds = argc > 1 ? atoi(argv[1]) : 5;
    uint32_t seed = argc > 2 ? (uint32_t)strtoul(argv[2], NULL, 0) : 1;
    time_t end = time(NULL) + seconds;
    unsigned long runs = 0, moved = 0;
    static uint8_t data[4096];
    bench_test = "fuzz";
    do {
        random_state = seed + (uint32_t)runs * 2654435761u;
        if (!random_state) random_state = 1;
        size_t n = make(data, sizeof data);
        if (random_next() % 4 == 0) for (size_t i = 0; i < n; i++) if (random_next() % 100 == 0) data[i] = (uint8_t)random_next();
        LLVMFuzzerTestOneInput(data, n);
        moved += bench.steps != 0;
        runs++;
    } while (time(NULL) < end);
    printf("ok fuzz: %lu runs from seed %u, %lu of them moved\n", runs, seed, moved);
    return 0;
}
#endif
