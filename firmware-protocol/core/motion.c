#include "motion.h"
#include "stepper.h"
#include "wire.h"

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

/* A release is as slow as 1 mm/s, goes 5 mm in all, and ends 300 ms after it was last asked for: whoever holds the button sees what it does. */
#define CREEP_METRES_INVERSE 1000u
#define RELEASE_METRES_INVERSE 200u
#define RELEASE_MILLISECONDS 300u

static struct {
    const traits_t *traits;
    const limits_t *limits;
    uint8_t  state, to_position, halting;
    int32_t  rate_now, cruise, goal;           /* signed phase increments a tick */
    int32_t  rate_step;                        /* change a millisecond */
    uint32_t acceleration, home_speed, milliseconds;
    int32_t  home_was;                         /* where home lay in the old counting */
    int32_t  opened_at;                        /* where the switch opened the first time */
    uint8_t  touches;
    uint16_t stop_left;                        /* milliseconds that a ramped stop may last yet */
    uint8_t  homed;
    uint8_t  releasing, released;              /* a release is on; the last motion was one */
    int8_t   last_direction;
    int32_t  release_from;
    uint16_t release_left;                     /* milliseconds */
    happened_t happened;
    int32_t  fed;                              /* specimens put in since the start */
} motion;

static uint32_t rate_of(uint32_t speed)        { return (uint32_t)(((uint64_t)speed << 32) / TICK_HERTZ); }
static uint32_t magnitude(int32_t v)           { return v < 0 ? 0u - (uint32_t)v : (uint32_t)v; }
static uint32_t speed_of(int32_t rate)         { return (uint32_t)(((uint64_t)magnitude(rate) * TICK_HERTZ) >> 32); }
static int32_t  with_sign(uint32_t v, int8_t d){ return d < 0 ? -(int32_t)v : (int32_t)v; }

static int32_t  metres_th(uint32_t inverse)    { return (int32_t)(motion.traits->steps_per_metre / inverse); }

uint8_t  motion_state(void)          { return motion.state; }
uint8_t  motion_homed(void)          { return motion.homed; }
void     motion_unhome(void)         { motion.homed = 0; }
uint8_t  motion_releasing(void)      { return motion.releasing; }
int8_t   motion_last_direction(void) { return motion.last_direction; }
uint32_t motion_creep(void)          { return (uint32_t)metres_th(CREEP_METRES_INVERSE); }

void motion_start(const traits_t *traits, const limits_t *limits)
{
    motion.traits = traits;
    motion.limits = limits;
    motion.state = MOTION_STILL;
    motion.rate_now = motion.goal = motion.cruise = 0;
    motion.homed = motion.releasing = motion.released = 0;
    motion.last_direction = 0;
    motion.happened = (happened_t){ 0 };
    motion.fed = 0;
    if (traits->feeder) traits->feeder->stop();
}

happened_t motion_take(void)
{
    happened_t happened = motion.happened;
    motion.happened = (happened_t){ 0 };
    return happened;
}

int8_t motion_direction_of(uint8_t kind, int32_t speed, int32_t target)
{
    if (kind != MOVE_TO_POSITION) return speed > 0 ? 1 : speed < 0 ? -1 : 0;
    int32_t position = stepper_position();
    return target > position ? 1 : target < position ? -1 : 0;
}

int8_t motion_direction(void)
{
    return motion.state == MOTION_STILL || motion.state == MOTION_FEEDING ? 0 : stepper.direction;
}

static void begin(uint8_t state, uint32_t acceleration)
{
    if (motion.state == MOTION_STILL) stepper.went = 0;
    motion.state = state;
    motion.halting = 0;
    motion.milliseconds = 0;
    motion.acceleration = acceleration;
    motion.rate_step = (int32_t)(((uint64_t)acceleration << 32) / (TICK_HERTZ * 1000uL));
    if (!motion.rate_step) motion.rate_step = 1;
    stepper.powered = 1;
    port_motor_power(1);
}

/* Where a release has to end: as far from where the first one began as is sensible, and within the travel. */
static int32_t release_end(int8_t direction)
{
    if (!motion.released) motion.release_from = stepper_position();
    motion.releasing = motion.released = 1;
    motion.release_left = RELEASE_MILLISECONDS;
    int32_t end = motion.release_from + direction * metres_th(RELEASE_METRES_INVERSE);
    int32_t travel = direction > 0 ? motion.limits->travel_max : motion.limits->travel_min;
    return direction > 0 ? (end < travel ? end : travel) : end > travel ? end : travel;
}

/* Asks the steps to run between bounds; called with the tick kept out. */
static void bound(int32_t low, int32_t high, uint8_t seek)
{
    volatile stepper_t *s = &stepper;
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
    if (kind == MOVE_RELEASE) target = release_end(direction);
    else motion.releasing = motion.released = 0;
    uint8_t before = port_lock();
    bound(motion.limits->travel_min, motion.limits->travel_max, SEEK_NOTHING);
    stepper.target = target;
    begin(MOTION_MOVING, acceleration);
    port_unlock(before);
    motion.to_position = kind != MOVE_BY_SPEED;
    motion.cruise = motion.goal = with_sign(rate_of(magnitude(speed)), direction);
    if (motion.to_position && target == stepper_position() && !motion.rate_now) motion_stop(1);
}

/* Down to the lower limit, slowly off it until it opens, the same again slowly, and on by the clearance: there is home. Each part within a
 * bound: a switch whose wire is cut reads as reached for ever, and must not send the crosshead up the whole rig. */
void motion_home(uint32_t speed)
{
    uint32_t span = (uint32_t)motion.traits->travel_max - (uint32_t)motion.traits->travel_min;
    int32_t reach = (int32_t)(span + span / 10u);
    int32_t position = stepper_position();
    if (speed > motion.limits->speed_max) speed = motion.limits->speed_max;
    motion.home_speed = speed;
    motion.touches = 0;
    motion.releasing = motion.released = 0;
    uint8_t before = port_lock();
    bound(position - reach, position + reach, SEEK_LOWER_LIMIT);
    begin(MOTION_HOMING, motion.limits->acceleration_max);
    port_unlock(before);
    motion.to_position = 0;
    motion.goal = -(int32_t)rate_of(speed);
    motion.homed = 0;
}

/* The crosshead stands; what the feeder does is the feeder's affair. */
void motion_feed(void)
{
    int32_t position = stepper_position();
    uint8_t before = port_lock();
    bound(position, position, SEEK_NOTHING);
    begin(MOTION_FEEDING, motion.limits->acceleration_max);
    port_unlock(before);
    motion.to_position = motion.releasing = 0;
    motion.traits->feeder->begin();
}

static void end(void)
{
    if (motion.state == MOTION_FEEDING) motion.traits->feeder->stop();
    uint8_t before = port_lock();
    stepper.rate = 0;
    stepper.moving = stepper.seek = stepper.has_target = stepper.arrived = 0;
    port_unlock(before);
    motion.rate_now = motion.goal = 0;
    motion.state = MOTION_STILL;
    if (!motion.releasing && stepper.went) motion.last_direction = stepper.went;
    motion.releasing = 0;
    motion.happened.what |= HAPPENED_ENDED;
}

void motion_stop(uint8_t at_once)
{
    if (motion.state == MOTION_STILL) return;
    if (at_once || motion.state == MOTION_FEEDING) { end(); return; }
    uint8_t before = port_lock();
    stepper.seek = stepper.has_target = stepper.arrived = 0;
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

/* Slowly, towards or off the switch, and no further from here than is sensible. */
static void creep(uint8_t seek)
{
    uint32_t slow = motion.home_speed / HOME_SLOWER;
    int32_t reach = motion.traits->home_clearance + metres_th(LEAVE_METRES_INVERSE), rate = (int32_t)rate_of(slow ? slow : 1u);
    motion.rate_now = 0;
    motion.goal = seek == SEEK_LOWER_LIMIT ? -rate : rate;
    uint8_t before = port_lock();
    volatile stepper_t *s = &stepper;
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
    int32_t here = stepper_position();
    if (!motion.touches++) { motion.opened_at = here; creep(SEEK_LOWER_LIMIT); return 0; }
    if (magnitude(here - motion.opened_at) > (uint32_t)metres_th(AGREE_METRES_INVERSE)) { motion.happened.faults |= FAULT_TRAVEL; return 0; }
    return 1;
}

/* The switch has opened: from here the position counts anew. */
static void count_anew(void)
{
    int32_t clearance = motion.traits->home_clearance;
    uint8_t before = port_lock();
    motion.home_was = stepper.position + clearance;
    bound(-clearance - 1, motion.traits->travel_max, SEEK_NOTHING);
    stepper.position = -clearance;
    stepper.target = 0;
    stepper.has_target = clearance > 0;
    stepper.arrived = clearance <= 0;
    port_unlock(before);
}

static void found_home(void)
{
    motion.homed = 1;
    motion.happened.what |= HAPPENED_HOMED;
    motion.happened.home_was = motion.home_was;
    end();
}

/* Chooses the speed so that the target is met: on the envelope v² = 2as, and no faster. */
static void approach(void)
{
    int32_t away = stepper.target - stepper_position();
    uint32_t v = speed_of(motion.rate_now), distance = magnitude(away);
    int8_t direction = away < 0 ? -1 : 1;
    uint8_t towards = motion.rate_now == 0 || (motion.rate_now > 0) == (away > 0);
    uint32_t slowest = motion.acceleration / 500u + CREEP_SPEED_MIN;
    uint32_t ahead = v / 600u + 1u;            /* what the next millisecond takes, and a little */
    uint64_t stopping = (uint64_t)v * v, twice = 2u * (uint64_t)motion.acceleration;
    uint64_t room = distance > ahead ? twice * (distance - ahead) : 0;
    uint8_t reachable = towards && (v <= 2u * slowest || stopping <= twice * (distance + 1u));

    uint8_t before = port_lock();
    stepper.has_target = reachable;     /* too fast to stop there: run past it and come back, rather than lose steps */
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
    volatile stepper_t *s = &stepper;
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
    uint8_t how = motion.traits->feeder->work();
    if (how == FEEDER_WORKS) return;
    motion.happened.what |= how == FEEDER_LOADED ? HAPPENED_LOADED : HAPPENED_EMPTY;
    if (how == FEEDER_LOADED) motion.happened.fed = ++motion.fed;
    end();
}

uint8_t motion_counts_anew_next(void)
{
    return motion.state == MOTION_HOMING && stepper.arrived && stepper.seek == SEEK_LOWER_LIMIT_OPEN && motion.touches;
}

void motion_millisecond(void)
{
    if (motion.state == MOTION_STILL) return;
    if (++motion.milliseconds > motion.limits->time_max) { motion.happened.faults |= FAULT_TIME; return; }
    if (motion.releasing && !motion.release_left--) { end(); return; }
    if (motion.state == MOTION_FEEDING) { feed(); return; }
    if (stepper.arrived) {
        if (motion.state != MOTION_HOMING) end();
        else if (stepper.seek == SEEK_LOWER_LIMIT) creep(SEEK_LOWER_LIMIT_OPEN);
        else if (stepper.seek == SEEK_LOWER_LIMIT_OPEN) { if (touched_twice()) count_anew(); }
        else found_home();
        return;
    }
    if (motion.halting && (!motion.rate_now || !motion.stop_left--)) { end(); return; }
    if (motion.to_position && !motion.halting) approach();
    ramp();
}
