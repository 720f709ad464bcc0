#ifndef RIG_STEPPER_H
#define RIG_STEPPER_H
#include <stdint.h>
#include "wire.h"

/* What must be right even when the main loop is stuck: steps, input gates, travel bounds and the keep-alive's countdown. The port calls
 * stepper_tick from a timer interrupt of fixed rate. Plain C, so that it runs in tests on any machine. */
#ifndef TICK_HERTZ
#define TICK_HERTZ 20000u
#endif
#define TICKS_PER_MILLISECOND (TICK_HERTZ / 1000u)
#define KEEP_ALIVE_TICKS      (500u * TICKS_PER_MILLISECOND)
/* An input counts after it stood for 2 ms: a spark of the motor is shorter. */
#define INPUT_FILTER_TICKS    (2u * TICKS_PER_MILLISECOND)
#define MICROSECONDS_PER_TICK (1000000u / TICK_HERTZ)

/* Beside the inputs of the wire the tick takes one of its own. */
#define INPUT_DRIVER_FAULT    (1u << 7)

enum { TICK_STEP = 1, TICK_POWER_OFF = 2 };
enum { SEEK_NOTHING, SEEK_LOWER_LIMIT, SEEK_LOWER_LIMIT_OPEN };

typedef struct {
    uint32_t ticks;
    uint32_t phase, rate;         /* a carry of the phase is a step; rate 0 stands */
    int32_t  position;            /* steps */
    int32_t  low, high, target;
    uint16_t keep_alive_left;     /* ticks */
    uint16_t trips;               /* fault bits for the main loop to latch */
    uint8_t  checked;             /* inputs this device has: others forbid nothing */
    uint8_t  inputs, raw, filter;
    int8_t   direction;           /* +1: grips apart */
    uint8_t  moving;              /* a motion is on, whatever its speed just now */
    uint8_t  powered;
    uint8_t  has_target, seek, arrived;
} stepper_t;

static inline uint8_t stepper_tick(volatile stepper_t *s, uint8_t raw)
{
    uint8_t answer = 0;
    s->ticks++;
    if (raw != s->raw) { s->raw = raw; s->filter = 0; }
    else if (s->filter < INPUT_FILTER_TICKS) s->filter++;
    else s->inputs = raw;
    if (s->keep_alive_left) s->keep_alive_left--;

    uint8_t in = s->inputs, have = s->checked;
    uint16_t bad = 0;
    if (have & ~in & INPUT_EMERGENCY_STOP_RELEASED) bad |= FAULT_EMERGENCY_STOP;
    if (in & INPUT_DRIVER_FAULT) bad |= FAULT_DRIVER;
    if (s->moving) {
        if (have & ~in & INPUT_GUARD_CLOSED) bad |= FAULT_GUARD;
        if (!s->keep_alive_left) bad |= FAULT_KEEP_ALIVE;
    }
    if (s->powered && (bad || !s->keep_alive_left)) {
        s->powered = 0;
        answer = TICK_POWER_OFF;
    }
    if (s->rate && s->seek) {
        uint8_t closed = in & INPUT_LOWER_LIMIT;
        if (s->seek == SEEK_LOWER_LIMIT ? closed : !closed) { s->arrived = 1; s->rate = 0; }
    }
    if (s->rate) {
        uint8_t limit = s->direction > 0 ? INPUT_UPPER_LIMIT : s->seek ? 0 : INPUT_LOWER_LIMIT;
        if (have & in & limit) bad |= FAULT_TRAVEL;
    }
    if (bad) { s->trips |= bad; s->rate = 0; }

    uint32_t rate = s->rate;
    if (!rate) return answer;
    uint32_t phase = s->phase + rate;
    uint8_t carry = phase < rate;
    s->phase = phase;
    if (!carry) return answer;
    int32_t position = s->position;
    if (s->direction > 0 ? position >= s->high : position <= s->low) { s->trips |= FAULT_TRAVEL; s->rate = 0; return answer; }
    s->position = position += s->direction;
    if (s->has_target && position == s->target) { s->arrived = 1; s->rate = 0; }
    return answer | TICK_STEP;
}

#endif
