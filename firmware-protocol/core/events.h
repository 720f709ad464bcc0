#ifndef RIG_EVENTS_H
#define RIG_EVENTS_H
#include <stdint.h>

/* Events that wait for their acknowledgement (PROTOCOL.md, 12). */
void     events_start(void);
void     event_raise(uint8_t code, int32_t detail);
void     event_acknowledge(uint16_t number);
void     events_millisecond(void);
uint16_t event_pending(void);
#endif
