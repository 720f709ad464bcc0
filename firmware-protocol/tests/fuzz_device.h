#ifndef FUZZ_DEVICE_H
#define FUZZ_DEVICE_H
#include <stddef.h>
#include <stdint.h>

/* The fuzzer's bytes: first the device's kind (bits 0 to 2) and its converter's rate (3 and 4), then operations, each one byte (what in bits 0 to 2, how much in the rest)
 * and what it takes. */
enum { FUZZ_RUN, FUZZ_RUN_LONG, FUZZ_RAW, FUZZ_FRAMED, FUZZ_HONEST, FUZZ_WORLD };
/* The operations on the world and the host's habitual commands. */
enum { FUZZ_KEEP_ALIVE, FUZZ_CONVERTER, FUZZ_ROOM, FUZZ_LOWER, FUZZ_SPRING, FUZZ_RESTART, FUZZ_NUMBER, FUZZ_ACKNOWLEDGE, FUZZ_INPUTS,
       FUZZ_COUNTS, FUZZ_WILD, FUZZ_LIMITS, FUZZ_MOVE, FUZZ_HOME, FUZZ_CLEAR, FUZZ_STREAM, FUZZ_STOP,
       FUZZ_STALE, FUZZ_TIME, FUZZ_FEED,
       /* inputs, converter, drive and program that lie */
       FUZZ_CHATTER, FUZZ_FREEZE, FUZZ_LOW, FUZZ_STARVE, FUZZ_REVERSE, FUZZ_HANG, FUZZ_UPPER, FUZZ_RELEASE };

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
#endif
