#ifndef BENCH_H
#define BENCH_H
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "device.h"

/* A port made of arrays: the device on the host, its clock turned by hand. */
#define BENCH_FRAMES_MAX 4096

typedef struct { uint8_t bytes[FRAME_PAYLOAD_MAX]; uint8_t length; uint32_t at_millisecond; } bench_frame_t;

typedef struct {
    unsigned count, bad, zeros_first;
    uint32_t milliseconds;
    uint16_t room;                  /* free bytes of the transmitter; refilled by bench_room_each */
    uint16_t room_each;             /* bytes a millisecond that the line takes; 0: no end of room */
    uint8_t  inputs, powered, keep_alive;
    int8_t   direction;
    uint32_t steps, last_step_at;   /* steps that were made; the millisecond of the last */
    int32_t  counts, converted;     /* what the converter sees, and what it last gave */
    int32_t  counts_per_step;       /* the specimen: counts follow the position where not 0 */
    uint16_t conversion_every;      /* ms; 0: the converter is dead */
    uint32_t conversions;           /* that it gave */
    uint8_t  frozen;                /* it gives the same counts for ever; else the last bit is its noise */
    uint16_t per_tick;              /* conversions that the device finds every so many ticks (a data line that sits low); 0: none */
    uint16_t skip_each;             /* every so many conversions is lost; 0: none */
    uint8_t  hung;                  /* the main loop has stopped; the tick goes on */
    uint8_t  chatter;               /* inputs that change over and over... */
    uint16_t chatter_on, chatter_off;    /* ... for so many ticks, and back for so many */
    uint8_t  reversed;              /* the motor's leads are swapped */
    int32_t  upper_switch;          /* true position at and above which the upper limit closes; INT32_MAX: nowhere */
    int32_t  lower_switch;          /* position (from the start) at and below which the lower limit closes */
    int32_t  true_position;
    uint32_t time_max;              /* ms of a motion, in the next limits */
    uint16_t feeding_left;          /* ms that the feeder works yet */
    uint8_t  magazine, fed;         /* specimens that it has, and whether one is in the grips */
    uint16_t next_command, counter;
    bench_frame_t frames[BENCH_FRAMES_MAX];    /* last: what lies behind count is not cleared */
} bench_t;

/* Who looks on while the bench runs; each may be NULL. */
typedef struct {
    void (*to_device)(uint8_t byte);           /* in the place of device_byte */
    void (*frame)(const bench_frame_t *frame);
    void (*step)(void);
    void (*inputs)(uint8_t raw);               /* each tick, before the device sees them */
    int32_t (*counts)(int32_t counts);         /* what the converter gives for what it sees */
    void (*conversion)(void);                  /* after the device took it */
    void (*millisecond)(void);
    void (*from_device)(uint8_t byte);         /* what it sends, as it stands on the line */
} bench_hooks_t;
extern bench_hooks_t bench_hooks;

extern bench_t bench;
extern traits_t bench_traits;
extern const feeder_t bench_feeder;            /* works for BENCH_FEEDING_MILLISECONDS */
extern const char *bench_test;
extern unsigned bench_checks;

#define BENCH_BUFFER 300
#define BENCH_FEEDING_MILLISECONDS 300
#define BENCH_BOOT 0x5EED0B07u
#define BENCH_INPUTS_GOOD (INPUT_GUARD_CLOSED | INPUT_EMERGENCY_STOP_RELEASED)

#define CHECK(what) do { bench_checks++; if (!(what)) { \
    fprintf(stderr, "%s:%d: %s: %s\n", __FILE__, __LINE__, bench_test, #what); abort(); } } while (0)
#define CHECK_EQUAL(expected, actual) do { long long e_ = (long long)(expected), a_ = (long long)(actual); bench_checks++; if (e_ != a_) { \
    fprintf(stderr, "%s:%d: %s: %s is %lld, not %lld\n", __FILE__, __LINE__, bench_test, #actual, a_, e_); abort(); } } while (0)
#define RUN(test) do { bench_test = #test; test(); printf("ok %s\n", #test); } while (0)

void bench_clear_all(void);         /* nothing sent, no time gone by, the world in order; the device is not started */
void bench_converter(unsigned every_milliseconds);    /* of the next start: its rate, nominal and true */
void bench_start(void);             /* a fresh device with good inputs, a second old, limits not set */
void bench_restart(uint8_t by_watchdog);
void bench_run(unsigned milliseconds);
void bench_send(const uint8_t *payload, uint8_t length);

/* Each sends a command with the next number, lets the answer come, and gives its result. */
int  bench_limits(uint16_t id, int32_t force_min, int32_t force_max, int32_t travel_min, int32_t travel_max);
int  bench_move(uint8_t kind, int32_t speed, int32_t target);
int  bench_stop(uint8_t at_once);
int  bench_home(uint32_t speed);
int  bench_feed(void);
int  bench_clear(uint16_t faults);
int  bench_stream(uint8_t on);
int  bench_command(uint8_t *payload, uint8_t length);   /* puts the number in, sends, gives the result or -1 */
void bench_acknowledge_all(void);

const bench_frame_t *bench_last(uint8_t type);           /* NULL for none */
unsigned bench_frames_of(uint8_t type);
unsigned bench_events_of(uint8_t code);
int  bench_state_at(uint8_t offset);                     /* u16 of the newest block */
void test_frames(void);
void test_commands(void);
void test_motion(void);
void test_faults(void);
void test_line(void);
void test_fooled(void);
void test_release(void);
#endif
