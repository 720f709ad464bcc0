#ifndef RIG_SUPERVISOR_H
#define RIG_SUPERVISOR_H
#include <stdint.h>
#include "limits.h"

/* The rules of what may move, what a fault does and when its cause is gone (PROTOCOL.md, 6 and 10). Pure: each function says something of
 * what it is shown, changes nothing and sends nothing. */

/* The device as it is now. */
typedef struct {
    uint32_t capabilities;
    const limits_t *limits;
    int32_t  position;
    uint16_t faults;
    uint8_t  inputs, checked;                  /* as they count; those that the device has */
    uint8_t  motion, homed, releasing;
    uint8_t  lives;                            /* a keep-alive counted in the last 500 ms */
    uint8_t  converter_sound;
    uint8_t  held;                             /* started by its watchdog over and over: stands until it is switched off */
    uint8_t  closed_loop;                      /* the drive knows its place after a loss of power */
    int8_t   force_beyond, last_direction;
    uint32_t creep;                            /* steps/s of a release at most */
} situation_t;

/* A motion that the host asks for. */
typedef struct {
    uint8_t  type, kind;
    uint16_t limits_id;
    uint8_t  right_boot;
    int8_t   direction;                        /* 0: it stands there already */
    uint8_t  force_allows;                     /* that direction */
    uint32_t speed, acceleration;
    int32_t  target;
} wish_t;

/* The fault that a motion command finds, beyond those latched: no force limit could be held. */
uint16_t supervisor_found(const situation_t *now, const wish_t *wish);
/* A result of PROTOCOL.md, 6. */
uint8_t  supervisor_permits(const situation_t *now, const wish_t *wish);
/* Of faults: those whose cause still holds. */
uint16_t supervisor_standing(const situation_t *now);
uint8_t  supervisor_cuts_power(uint16_t faults);
uint8_t  supervisor_unhomes(const situation_t *now, uint16_t faults);
uint8_t  supervisor_stops(const situation_t *now, uint16_t faults);
#endif
