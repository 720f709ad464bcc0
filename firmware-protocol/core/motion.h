#ifndef RIG_MOTION_H
#define RIG_MOTION_H
#include <stdint.h>
#include "limits.h"
#include "port.h"

/* What the crosshead does (PROTOCOL.md, 9): ramps at 1 kHz, the steps themselves are stepper.h's. The checks were made before. What came of
 * it is returned by motion_take: nothing here tells anybody. */
enum { HAPPENED_ENDED = 1, HAPPENED_HOMED = 2, HAPPENED_LOADED = 4, HAPPENED_EMPTY = 8 };
typedef struct { uint8_t what; uint16_t faults; int32_t home_was, fed; } happened_t;

void    motion_start(const traits_t *traits, const limits_t *limits);
uint8_t motion_state(void);
uint8_t motion_homed(void);
void    motion_unhome(void);
void    motion_move(uint8_t kind, int32_t speed, uint32_t acceleration, int32_t target);
void    motion_home(uint32_t speed);
void    motion_feed(void);
/* By the ramp, or at once; `at_once` also ends what a fault stopped. */
void    motion_stop(uint8_t at_once);
void    motion_millisecond(void);
/* What happened since it was last asked. */
happened_t motion_take(void);
/* The next millisecond sets the position anew: what counts from the old home is to be sent before. */
uint8_t motion_counts_anew_next(void);
/* -1, 0, +1: the way in which a move would go, and in which the present motion goes (0 for feeding). */
int8_t  motion_direction_of(uint8_t kind, int32_t speed, int32_t target);
int8_t  motion_direction(void);
/* Releases (MOVE_RELEASE): whether one is on, which way the last other motion went (0: none since the start), and how fast one may go. */
uint8_t  motion_releasing(void);
int8_t   motion_last_direction(void);
uint32_t motion_creep(void);
#endif
