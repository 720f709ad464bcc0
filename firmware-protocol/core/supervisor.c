#include "supervisor.h"
#include "stepper.h"
#include "wire.h"

#define FAULTS_THAT_CUT_POWER (FAULT_KEEP_ALIVE | FAULT_GUARD | FAULT_EMERGENCY_STOP | FAULT_DRIVER | FAULT_WATCHDOG)
/* Under these a rig stands jammed and must be able to let go. */
#define FAULTS_TO_RELEASE (FAULT_FORCE | FAULT_TRAVEL | FAULT_TIME | FAULT_CONVERTER)

static uint8_t guard_open(const situation_t *now)     { return (now->checked & ~now->inputs & INPUT_GUARD_CLOSED) != 0; }
static uint8_t stop_pressed(const situation_t *now)   { return (now->checked & ~now->inputs & INPUT_EMERGENCY_STOP_RELEASED) != 0; }
static uint8_t limits_reached(const situation_t *now) { return now->checked & now->inputs & INPUT_LIMITS; }
static uint8_t releases(const wish_t *wish)           { return wish->type == MSG_MOVE && wish->kind == MOVE_RELEASE; }

uint16_t supervisor_found(const situation_t *now, const wish_t *wish)
{
    return !now->converter_sound && !releases(wish) ? FAULT_CONVERTER : 0;
}

/* What every motion needs; Busy is the last check that all have in common. */
static uint8_t permits_any(const situation_t *now, const wish_t *wish)
{
    if (!wish->right_boot) return RESULT_WRONG_BOOT;
    if (!now->limits->id || wish->limits_id != now->limits->id) return RESULT_WRONG_LIMITS;
    if (stop_pressed(now)) return RESULT_EMERGENCY_STOP_PRESSED;
    if ((now->faults | supervisor_found(now, wish)) & (uint16_t)~(releases(wish) ? FAULTS_TO_RELEASE : 0)) return RESULT_FAULTED;
    if (guard_open(now)) return RESULT_GUARD_OPEN;
    if (!now->lives) return RESULT_NO_KEEP_ALIVE;
    uint8_t replaces = wish->type == MSG_MOVE && now->motion == MOTION_MOVING && releases(wish) == now->releasing;
    return now->motion == MOTION_STILL || replaces ? RESULT_DONE : RESULT_BUSY;
}

static uint8_t end_is_reached(const situation_t *now, int8_t direction)
{
    if (!direction) return 0;
    if (limits_reached(now) & (direction > 0 ? INPUT_UPPER_LIMIT : INPUT_LOWER_LIMIT)) return 1;
    return direction > 0 ? now->position >= now->limits->travel_max : now->position <= now->limits->travel_min;
}

static uint8_t permits_move(const situation_t *now, const wish_t *wish)
{
    const limits_t *l = now->limits;
    uint8_t to_position = wish->kind == MOVE_TO_POSITION;
    if (to_position && (now->capabilities & CAN_HOMING) && !now->homed) return RESULT_NOT_HOMED;
    if (wish->speed > l->speed_max || wish->acceleration > l->acceleration_max) return RESULT_OUTSIDE_LIMITS;
    if (to_position && (wish->target < l->travel_min || wish->target > l->travel_max)) return RESULT_OUTSIDE_LIMITS;
    if (end_is_reached(now, wish->direction)) return RESULT_OUTSIDE_LIMITS;
    if (!releases(wish)) return wish->direction && !wish->force_allows ? RESULT_OUTSIDE_LIMITS : RESULT_DONE;
    /* Only where it came from, however the force reads; and from a start on nobody knows where that is. */
    if (!now->last_direction || wish->direction == now->last_direction || wish->speed > now->creep) return RESULT_OUTSIDE_LIMITS;
    return RESULT_DONE;
}

uint8_t supervisor_permits(const situation_t *now, const wish_t *wish)
{
    uint8_t result = permits_any(now, wish);
    if (result != RESULT_DONE) return result;
    switch (wish->type) {
    case MSG_MOVE: return permits_move(now, wish);
    case MSG_HOME:                             /* both limits at once cannot be: a plug is out */
        return wish->speed > now->limits->speed_max || now->force_beyond || limits_reached(now) == INPUT_LIMITS ? RESULT_OUTSIDE_LIMITS : RESULT_DONE;
    default: return now->force_beyond ? RESULT_OUTSIDE_LIMITS : RESULT_DONE;
    }
}

uint16_t supervisor_standing(const situation_t *now)
{
    uint16_t stays = 0;
    if (!now->lives) stays |= FAULT_KEEP_ALIVE;
    if (guard_open(now)) stays |= FAULT_GUARD;
    if (stop_pressed(now)) stays |= FAULT_EMERGENCY_STOP;
    if (now->inputs & INPUT_DRIVER_FAULT) stays |= FAULT_DRIVER;
    if (!now->converter_sound) stays |= FAULT_CONVERTER;
    if (now->held) stays |= FAULT_WATCHDOG;
    return stays;
}

uint8_t supervisor_cuts_power(uint16_t faults) { return (faults & FAULTS_THAT_CUT_POWER) != 0; }

/* What cuts the motor's supply in motion can cost steps that were counted as made. */
uint8_t supervisor_unhomes(const situation_t *now, uint16_t faults)
{
    return supervisor_cuts_power(faults) && now->motion != MOTION_STILL && !now->closed_loop;
}

/* A release goes on with a converter that is dead already: that is what it is for. */
uint8_t supervisor_stops(const situation_t *now, uint16_t faults)
{
    return now->motion != MOTION_STILL && !(now->releasing && faults == FAULT_CONVERTER);
}
