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
/* Each input for itself: it is bad after 2 ms of bad, added up (a spark of the motor is shorter), and good only after it has been good for 20 ms
 * without a break. So one that chatters is bad, whatever the others do. */
#define INPUT_BAD_TICKS       (2u * TICKS_PER_MILLISECOND)
#define INPUT_GOOD_TICKS      (20u * TICKS_PER_MILLISECOND)
/* The force limit is the main loop's: when that has not come for so long, nothing moves. */
#define LOOP_TICKS            (20u * TICKS_PER_MILLISECOND)
#define MICROSECONDS_PER_TICK (1000000u / TICK_HERTZ)
/* Steps/s²: what changes the phase's increment by a quarter of all in a millisecond. A speed is under half of TICK_HERTZ: a step has two ticks. */
#define ACCELERATION_MAX      (TICK_HERTZ * 250uL)

_Static_assert(TICK_HERTZ >= 2000u && TICK_HERTZ <= 125000u, "the tick's counters hold 2 ms in 8 bits and 500 ms in 16");
_Static_assert(1000000u % TICK_HERTZ == 0 && TICK_HERTZ % 1000u == 0, "a tick is whole microseconds, a millisecond whole ticks");

/* Beside the inputs of the wire the tick takes one of its own. */
#define INPUT_DRIVER_FAULT    (1u << 7)
#define INPUTS_GOOD_WHEN_SET  (INPUT_GUARD_CLOSED | INPUT_EMERGENCY_STOP_RELEASED)
#define INPUT_LIMITS          (INPUT_LOWER_LIMIT | INPUT_UPPER_LIMIT)

enum { TICK_STEP = 1, TICK_POWER_OFF = 2 };
enum { SEEK_NOTHING, SEEK_LOWER_LIMIT, SEEK_LOWER_LIMIT_OPEN };

typedef struct {
    uint32_t ticks;
    uint32_t phase, rate;         /* a carry of the phase is a step; rate 0 stands */
    int32_t  position;            /* steps */
    int32_t  low, high, target;
    uint16_t keep_alive_left;     /* ticks */
    uint16_t loop_left;           /* ticks until the main loop counts as hung */
    uint16_t trips;               /* fault bits for the main loop to latch */
    uint8_t  checked;             /* inputs this device has: others forbid nothing */
    uint8_t  inputs;              /* as they count */
    uint8_t  unsettled;           /* inputs that are bad, or of which some bad is not forgotten yet */
    uint8_t  bad_for[8];          /* ticks of bad that an input has gathered, up to INPUT_BAD_TICKS */
    uint16_t good_for[8];         /* ticks that it has been good without a break */
    uint8_t  opened;              /* limits that were open at some time of this motion: one that closes now is a fault, ahead or behind */
    int8_t   direction;           /* +1: grips apart */
    int8_t   went;                /* the direction of this motion's last step; 0: it has made none */
    uint8_t  moving;              /* a motion is on, whatever its speed just now */
    uint8_t  powered;
    uint8_t  has_target, seek, arrived;
    uint8_t  guard_holds_power;   /* an open guard leaves the power on at standstill: for a screw that does not hold by itself */
} stepper_t;

/* The one of this device. The port's interrupt hands it to stepper_tick. */
extern volatile stepper_t stepper;

/* For the main loop; each keeps the tick out for as long as it has to. */
void     stepper_start(uint8_t raw, uint8_t checked, uint8_t guard_holds_power);
int32_t  stepper_position(void);
uint8_t  stepper_inputs(void);
void     stepper_live(void);                   /* a keep-alive counted */
uint8_t  stepper_lives(void);                  /* within the last 500 ms */
uint16_t stepper_take_trips(void);             /* what the tick found; and the main loop is there */
void     stepper_forget_trips(void);
void     stepper_power(uint8_t on);

/* Nothing to do while all is well and has been for long: the usual case costs nothing. */
static inline void stepper_filter(volatile stepper_t *s, uint8_t raw)
{
    uint8_t bad = raw ^ INPUTS_GOOD_WHEN_SET, work = bad | s->unsettled;
    if (!work) return;
    uint8_t unsettled = 0, counts_bad = s->inputs ^ INPUTS_GOOD_WHEN_SET;
    for (uint8_t i = 0, bit = 1; work; i++, bit = (uint8_t)(bit << 1), work >>= 1, bad >>= 1) {
        if (!(work & 1u)) continue;
        if (bad & 1u) {
            uint8_t gathered = s->bad_for[i];
            s->good_for[i] = 0;
            if (gathered < INPUT_BAD_TICKS) s->bad_for[i] = ++gathered;
            if (gathered == INPUT_BAD_TICKS) counts_bad |= bit;
        } else {
            uint16_t stood = s->good_for[i] + 1u;
            s->good_for[i] = stood;
            if (stood >= INPUT_GOOD_TICKS) { s->bad_for[i] = 0; s->good_for[i] = 0; counts_bad &= (uint8_t)~bit; continue; }
        }
        unsettled |= bit;
    }
    s->unsettled = unsettled;
    s->inputs = counts_bad ^ INPUTS_GOOD_WHEN_SET;
}

static inline uint8_t stepper_tick(volatile stepper_t *s, uint8_t raw)
{
    uint8_t answer = 0;
    s->ticks++;
    stepper_filter(s, raw);
    uint16_t loop = s->loop_left;
    if (loop) s->loop_left = --loop;
    if (s->keep_alive_left) s->keep_alive_left--;

    uint8_t in = s->inputs, have = s->checked;
    uint16_t bad = 0;
    if (have & ~in & INPUT_EMERGENCY_STOP_RELEASED) bad |= FAULT_EMERGENCY_STOP;
    if (in & INPUT_DRIVER_FAULT) bad |= FAULT_DRIVER;
    uint8_t open = have & ~in & INPUT_GUARD_CLOSED;
    if (s->moving) {
        if (open) bad |= FAULT_GUARD;
        if (!s->keep_alive_left) bad |= FAULT_KEEP_ALIVE;
        if (!loop) bad |= FAULT_WATCHDOG;
    }
    if (s->powered && (bad || !loop || !s->keep_alive_left || (open && !s->guard_holds_power))) {
        s->powered = 0;
        answer = TICK_POWER_OFF;
    }
    if (s->rate && s->seek) {
        uint8_t closed = in & INPUT_LOWER_LIMIT;
        if (s->seek == SEEK_LOWER_LIMIT ? closed : !closed) { s->arrived = 1; s->rate = 0; }
    }
    if (s->moving) {                           /* a limit that closes behind the motion: the drive runs the wrong way */
        uint8_t forbidden = s->opened, closed = have & in & INPUT_LIMITS;
        s->opened = forbidden | (uint8_t)~closed;
        if (s->rate) forbidden |= s->direction > 0 ? INPUT_UPPER_LIMIT : INPUT_LOWER_LIMIT;
        if (s->seek == SEEK_LOWER_LIMIT) forbidden &= (uint8_t)~INPUT_LOWER_LIMIT;
        if (closed & forbidden) bad |= FAULT_TRAVEL;
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
    s->went = s->direction;
    if (s->has_target && position == s->target) { s->arrived = 1; s->rate = 0; }
    return answer | TICK_STEP;
}

#endif
