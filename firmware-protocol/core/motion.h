#ifndef RIG_MOTION_H
#define RIG_MOTION_H
#include <stdint.h>

/* What the crosshead does (PROTOCOL.md, 9): ramps at 1 kHz, the steps themselves are stepper.h's. The checks were made before. */
void    motion_start(void);
uint8_t motion_state(void);
void    motion_move(uint8_t kind, int32_t speed, uint32_t acceleration, int32_t target);
void    motion_home(uint32_t speed);
void    motion_feed(void);
/* By the ramp, or at once; `at_once` also ends what a fault stopped. */
void    motion_stop(uint8_t at_once);
void    motion_millisecond(void);
/* -1, 0, +1: the way in which a move would go, and in which the present motion goes (0 for feeding). */
int8_t  motion_direction_of(uint8_t kind, int32_t speed, int32_t target);
int8_t  motion_direction(void);
#endif
