#include "motion.h"
#include "blocks.h"
#include "device.h"
#include "events.h"
#include "faults.h"

/* Slower than this a ramp need not go before it stops: steps/s. */
#define CREEP_SPEED_MIN 20u
/* Home is left by an eighth of the speed it was sought with. */
#define HOME_SLOWER 8u
/* Off the switch within the clearance and this, or it is no switch; and the second touch finds it as near to the first as that. */
#define LEAVE_METRES_INVERSE 500u              /* 2 mm */
#define AGREE_METRES_INVERSE 5000u             /* 0.2 mm */
/* A ramped stop is over by then, whatever acceleration the motion was given; it is helped to be nearly over by its ramp. */
#define STOP_MILLISECONDS 500u
#define STOP_RAMP_MILLISECONDS 400u

static struct {
    uint8_t  state, to_position, halting;
    int32_t  rate_now, cruise, goal;           /* signed phase increments a tick */
    int32_t  rate_step;                        /* change a millisecond */
    uint32_t acceleration, home_speed, milliseconds;
    int32_t  home_was;                         /* where home lay in the old counting */
    int32_t  opened_at;                        /* where the switch opened the first time */
    uint8_t  touches;
    uint16_t stop_left;                        /* milliseconds that a ramped stop may last yet */
    int32_t  fed;                              /* specimens put in since the start */
} motion;

static uint32_t rate_of(uint32_t speed)        { return (uint32_t)(((uint64_t)speed << 32) / TICK_HERTZ); }
static uint32_t magnitude(int32_t v)           { return v < 0 ? 0u - (uint32_t)v : (uint32_t)v; }
static uint32_t speed_of(int32_t rate)         { return (uint32_t)(((uint64_t)magnitude(rate) * TICK_HERTZ) >> 32); }
static int32_t  with_sign(uint32_t v, int8_t d){ return d < 0 ? -(int32_t)v : (int32_t)v; }

uint8_t motion_state(void) { return motion.state; }

void motion_start(void)
{
    motion.state = MOTION_STILL;
    motion.rate_now = motion.goal = motion.cruise = 0;
    motion.fed = 0;
}

int8_t motion_direction_of(uint8_t kind, int32_t speed, int32_t target)
{
    if (kind == MOVE_BY_SPEED) return speed > 0 ? 1 : speed < 0 ? -1 : 0;
    int32_t position = device_position();
    return target > position ? 1 : target < position ? -1 : 0;
}

int8_t motion_direction(void)
{
    return motion.state == MOTION_STILL || motion.state == MOTION_FEEDING ? 0 : device.stepper.direction;
}

static void begin(uint8_t state, uint32_t acceleration)
{
    motion.state = state;
    motion.halting = 0;
    motion.milliseconds = 0;
    motion.acceleration = acceleration;
    motion.rate_step = (int32_t)(((uint64_t)acceleration << 32) / (TICK_HERTZ * 1000uL));
    if (!motion.rate_step) motion.rate_step = 1;
    device.stepper.powered = 1;
    port_motor_power(1);
}

/* Asks the steps to run between bounds; called with the tick kept out. */
static void bound(int32_t low, int32_t high, uint8_t seek)
{
    volatile stepper_t *s = &device.stepper;
    s->low = low;
    s->high = high;
    s->seek = seek;
    s->has_target = s->arrived = 0;
    s->opened = (uint8_t)~s->inputs;
    s->moving = 1;
}

void motion_move(uint8_t kind, int32_t speed, uint32_t acceleration, int32_t target)
{
    int8_t direction = motion_direction_of(kind, speed, target);
    uint8_t before = port_lock();
    bound(device.limits.travel_min, device.limits.travel_max, SEEK_NOTHING);
    device.stepper.target = target;
    begin(MOTION_MOVING, acceleration);
    port_unlock(before);
    motion.to_position = kind == MOVE_TO_POSITION;
    motion.cruise = motion.goal = with_sign(rate_of(magnitude(speed)), direction);
    if (motion.to_position && !direction && !motion.rate_now) motion_stop(1);
}

/* Down to the lower limit, slowly off it until it opens, the same again slowly, and on by the clearance: there is home. Each part within a
 * bound: a switch whose wire is cut reads as reached for ever, and must not send the crosshead up the whole rig. */
void motion_home(uint32_t speed)
{
    uint32_t span = (uint32_t)device.traits->travel_max - (uint32_t)device.traits->travel_min;
    int32_t reach = (int32_t)(span + span / 10u);
    int32_t position = device_position();
    if (speed > device.limits.speed_max) speed = device.limits.speed_max;
    motion.home_speed = speed;
    motion.touches = 0;
    uint8_t before = port_lock();
    bound(position - reach, position + reach, SEEK_LOWER_LIMIT);
    begin(MOTION_HOMING, device.limits.acceleration_max);
    port_unlock(before);
    motion.to_position = 0;
    motion.goal = -(int32_t)rate_of(speed);
    device.homed = 0;
}

/* The crosshead stands; what the feeder does is the feeder's affair. */
void motion_feed(void)
{
    int32_t position = device_position();
    uint8_t before = port_lock();
    bound(position, position, SEEK_NOTHING);
    begin(MOTION_FEEDING, device.limits.acceleration_max);
    port_unlock(before);
    motion.to_position = 0;
    device.traits->feeder->begin();
}

static void end(void)
{
    if (motion.state == MOTION_FEEDING) device.traits->feeder->stop();
    uint8_t before = port_lock();
    device.stepper.rate = 0;
    device.stepper.moving = device.stepper.seek = device.stepper.has_target = device.stepper.arrived = 0;
    port_unlock(before);
    motion.rate_now = motion.goal = 0;
    motion.state = MOTION_STILL;
    event_raise(EVENT_MOTION_ENDED, device_position());
}

void motion_stop(uint8_t at_once)
{
    if (motion.state == MOTION_STILL) return;
    if (at_once || motion.state == MOTION_FEEDING) { end(); return; }
    uint8_t before = port_lock();
    device.stepper.seek = device.stepper.has_target = device.stepper.arrived = 0;
    port_unlock(before);
    if (!motion.halting) {
        uint32_t least = magnitude(motion.rate_now) / STOP_RAMP_MILLISECONDS;
        if ((uint32_t)motion.rate_step < least) motion.rate_step = (int32_t)least;
        motion.stop_left = STOP_MILLISECONDS;
    }
    motion.state = MOTION_STOPPING;
    motion.halting = 1;
    motion.goal = 0;
}

static int32_t metres_th(uint32_t inverse) { return (int32_t)(device.traits->steps_per_metre / inverse); }

/* Slowly, towards or off the switch, and no further from here than is sensible. */
static void creep(uint8_t seek)
{
    uint32_t slow = motion.home_speed / HOME_SLOWER;
    int32_t reach = device.traits->home_clearance + metres_th(LEAVE_METRES_INVERSE), rate = (int32_t)rate_of(slow ? slow : 1u);
    motion.rate_now = 0;
    motion.goal = seek == SEEK_LOWER_LIMIT ? -rate : rate;
    uint8_t before = port_lock();
    volatile stepper_t *s = &device.stepper;
    s->low = s->position - reach;
    s->high = s->position + reach;
    s->seek = seek;
    s->arrived = 0;
    if (seek == SEEK_LOWER_LIMIT_OPEN) s->opened &= (uint8_t)~INPUT_LOWER_LIMIT;      /* it was found, and may bounce until it is left */
    port_unlock(before);
}

/* Off the switch for the first time: touch it again. For the second: both are to agree, or the switch is loose, or steps were lost. */
static uint8_t touched_twice(void)
{
    int32_t here = device_position();
    if (!motion.touches++) { motion.opened_at = here; creep(SEEK_LOWER_LIMIT); return 0; }
    if (magnitude(here - motion.opened_at) > (uint32_t)metres_th(AGREE_METRES_INVERSE)) { fault_latch(FAULT_TRAVEL); return 0; }
    return 1;
}

/* The switch has opened: from here the position counts anew. */
static void count_anew(void)
{
    int32_t clearance = device.traits->home_clearance;
    blocks_close();
    uint8_t before = port_lock();
    motion.home_was = device.stepper.position + clearance;
    bound(-clearance - 1, device.traits->travel_max, SEEK_NOTHING);
    device.stepper.position = -clearance;
    device.stepper.target = 0;
    device.stepper.has_target = clearance > 0;
    device.stepper.arrived = clearance <= 0;
    port_unlock(before);
}

static void found_home(void)
{
    device.homed = 1;
    event_raise(EVENT_HOMED, motion.home_was);
    end();
}

/* Chooses the speed so that the target is met: on the envelope v² = 2as, and no faster. */
static void approach(void)
{
    int32_t away = device.stepper.target - device_position();
    uint32_t v = speed_of(motion.rate_now), distance = magnitude(away);
    int8_t direction = away < 0 ? -1 : 1;
    uint8_t towards = motion.rate_now == 0 || (motion.rate_now > 0) == (away > 0);
    uint32_t slowest = motion.acceleration / 500u + CREEP_SPEED_MIN;
    uint32_t ahead = v / 600u + 1u;            /* what the next millisecond takes, and a little */
    uint64_t stopping = (uint64_t)v * v, twice = 2u * (uint64_t)motion.acceleration;
    uint64_t room = distance > ahead ? twice * (distance - ahead) : 0;
    uint8_t reachable = towards && (v <= 2u * slowest || stopping <= twice * (distance + 1u));

    uint8_t before = port_lock();
    device.stepper.has_target = reachable;     /* too fast to stop there: run past it and come back, rather than lose steps */
    port_unlock(before);

    int32_t creep = with_sign(rate_of(slowest), direction);
    if (magnitude(creep) > magnitude(motion.cruise)) creep = with_sign(magnitude(motion.cruise), direction);
    motion.cruise = with_sign(magnitude(motion.cruise), direction);
    if (!towards) motion.goal = motion.cruise;
    else if (stopping >= room) { motion.goal = creep; motion.state = MOTION_STOPPING; }
    else if (motion.state == MOTION_STOPPING) motion.goal = v > slowest ? motion.rate_now : creep;
    else motion.goal = motion.cruise;
    if (!towards) motion.state = MOTION_MOVING;
}

static void ramp(void)
{
    int32_t v = motion.rate_now, goal = motion.goal, step = motion.rate_step;
    if ((v > 0 && goal < 0) || (v < 0 && goal > 0)) goal = 0;      /* through zero before it turns round */
    if (v < goal) v = goal - v > step ? v + step : goal;
    else if (v > goal) v = v - goal > step ? v - step : goal;
    motion.rate_now = v;
    int8_t direction = v < 0 ? -1 : 1;
    volatile stepper_t *s = &device.stepper;
    uint8_t before = port_lock();
    if (v && direction != s->direction) {
        s->direction = direction;
        s->phase = 0;                  /* at least two ticks until the first step: the driver's set-up time */
        port_direction(direction);
    }
    if (!s->arrived && !s->trips) s->rate = magnitude(v);
    port_unlock(before);
}

static void feed(void)
{
    uint8_t how = device.traits->feeder->work();
    if (how == FEEDER_WORKS) return;
    if (how == FEEDER_LOADED) event_raise(EVENT_SPECIMEN_LOADED, ++motion.fed);
    else event_raise(EVENT_FEEDER_EMPTY, 0);
    end();
}

void motion_millisecond(void)
{
    if (motion.state == MOTION_STILL) return;
    if (++motion.milliseconds > device.limits.time_max) { fault_latch(FAULT_TIME); return; }
    if (motion.state == MOTION_FEEDING) { feed(); return; }
    if (device.stepper.arrived) {
        if (motion.state != MOTION_HOMING) end();
        else if (device.stepper.seek == SEEK_LOWER_LIMIT) creep(SEEK_LOWER_LIMIT_OPEN);
        else if (device.stepper.seek == SEEK_LOWER_LIMIT_OPEN) { if (touched_twice()) count_anew(); }
        else found_home();
        return;
    }
    if (motion.halting && (!motion.rate_now || !motion.stop_left--)) { end(); return; }
    if (motion.to_position && !motion.halting) approach();
    ramp();
}
