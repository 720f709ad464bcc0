#ifndef RIG_COMMANDS_H
#define RIG_COMMANDS_H
#include <stdint.h>
#include "port.h"

/* What the host asks for, as far as its number, its type and its length say (PROTOCOL.md, 5 and 6). What it means is `act`'s: it gets the
 * payload of a command that is to be obeyed, and gives the result and its detail. A Stop comes to it in any case. */
typedef uint8_t commands_act(const uint8_t *payload, uint8_t length, uint32_t *detail);

void     commands_start(const traits_t *traits, uint32_t capabilities, commands_act *act);
/* A payload of which at least FRAME_KEPT_MAX bytes are there. */
void     commands_take(const uint8_t *payload, uint8_t length);
/* Sends a hello that waits for room. */
void     commands_millisecond(void);
uint16_t commands_last(void);
#endif
