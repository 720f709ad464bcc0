#include "line.h"
#include "frame.h"
#include "port.h"

uint8_t line_has_room(uint8_t payload_length, uint8_t kept)
{
    return port_transmit_room() >= (uint16_t)(payload_length + FRAME_OVERHEAD + kept);
}

void line_send(const uint8_t *payload, uint8_t length) { frame_send(payload, length, port_transmit); }
