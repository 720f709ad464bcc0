#ifndef RIG_MEASURING_H
#define RIG_MEASURING_H
#include "force.h"
#include "motion.h"
#include "wire.h"

/* What stands in the place of motion.c and force.c in a device that only measures (RIG_MEASURES_ONLY): nothing moves, so nothing has to be held. */
#define motion_start(traits, limits)  ((void)(traits), (void)(limits))
#define force_start(limits)           ((void)(limits))
#define force_limits_set()            ((void)0)
#define motion_state()                ((uint8_t)MOTION_STILL)
#define motion_homed()                ((uint8_t)0)
#define motion_unhome()               ((void)0)
#define motion_releasing()            ((uint8_t)0)
#define motion_last_direction()       ((int8_t)0)
#define motion_creep()                ((uint32_t)0)
#define motion_direction()            ((int8_t)0)
#define motion_direction_of(k, s, t)  ((void)(k), (void)(s), (void)(t), (int8_t)0)
#define motion_move(k, s, a, t)       ((void)0)
#define motion_home(s)                ((void)0)
#define motion_feed()                 ((void)0)
#define motion_stop(at_once)          ((void)(at_once))
#define motion_millisecond()          ((void)0)
#define motion_counts_anew_next()     ((uint8_t)0)
#define motion_take()                 ((happened_t){ 0 })
#define force_beyond()                ((int8_t)0)
#define force_allows(direction)       ((uint8_t)1)
#define force_motion_begins(replaces) ((void)(replaces))
#define force_conversion(d, m)        ((uint8_t)0)
#endif
