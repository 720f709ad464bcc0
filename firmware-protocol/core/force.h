#ifndef RIG_FORCE_H
#define RIG_FORCE_H
#include <stdint.h>
#include "limits.h"

/* The force limits, and the way back out of them (PROTOCOL.md, 8 and 10). Looks at the converter's last two judged conversions. */
void    force_start(const limits_t *limits);
/* The limits are others from now on. */
void    force_limits_set(void);
void    force_motion_begins(uint8_t replaces);
/* After a judged conversion; `direction`: of the motion that is on, `moving`: whether one is. Returns 1 where it must stop. */
uint8_t force_conversion(int8_t direction, uint8_t moving);
int8_t  force_beyond(void);                    /* -1 below, +1 above, 0 within the limits, as two conversions in a row agree */
uint8_t force_allows(int8_t direction);
#endif
