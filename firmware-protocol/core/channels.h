#ifndef RIG_CHANNELS_H
#define RIG_CHANNELS_H
#include <stdint.h>
#include "port.h"

/* The channels besides the force: what they are, which are on, their values (PROTOCOL.md, 20). */
void    channels_start(const traits_t *traits);
/* Takes a whole Channel command: describes, switches. The result. */
uint8_t channels_take(const uint8_t *payload);
/* A conversion of the force with this number was counted, and the stream is on: the values that belong to it. 0 where one found no room. */
uint8_t channels_conversion(uint32_t number);
#endif
