#ifndef RIG_LINE_H
#define RIG_LINE_H
#include <stdint.h>

/* Frames to the host, into the port's transmit buffer. */
/* Whether it takes a frame of so many payload bytes; `kept` bytes stay free. */
uint8_t line_has_room(uint8_t payload_length, uint8_t kept);
void    line_send(const uint8_t *payload, uint8_t length);
#endif
