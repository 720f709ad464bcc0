#ifndef RIG_COMMANDS_H
#define RIG_COMMANDS_H
#include <stdint.h>

/* What the host asks for (PROTOCOL.md, 5 and 6). */
void     commands_start(void);
/* The payload that the receiver holds. */
void     command_take(void);
/* Sends a hello that waits for room. */
void     commands_millisecond(void);
uint16_t command_last(void);
#endif
