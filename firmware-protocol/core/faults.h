#ifndef RIG_FAULTS_H
#define RIG_FAULTS_H
#include <stdint.h>

/* Latched faults (PROTOCOL.md, 10). */
void    fault_latch(uint16_t bits);            /* stops what moves, tells */
void    faults_clear(uint16_t bits);           /* those whose cause is gone */

/* The force limits, and the way back out of them. */
void    force_start(void);
void    force_motion_begins(void);
void    force_conversion(void);                /* after the converter's */
int8_t  force_beyond(void);                    /* -1 below, +1 above, 0 within the limits, as two conversions in a row agree */
uint8_t force_allows(int8_t direction);
#endif
