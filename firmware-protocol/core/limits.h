#ifndef RIG_LIMITS_H
#define RIG_LIMITS_H
#include <stdint.h>

/* What the host set (PROTOCOL.md, 8). */
typedef struct {
    uint16_t id;                               /* 0: none in force */
    int32_t  force_min, force_max;             /* counts */
    int32_t  travel_min, travel_max;           /* steps */
    uint32_t speed_max, acceleration_max;      /* steps/s, steps/s² */
    uint32_t time_max;                         /* ms of one motion */
} limits_t;
#endif
