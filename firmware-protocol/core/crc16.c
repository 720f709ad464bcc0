#include "crc16.h"

/* Byte-wise without a table: 512 bytes of flash saved, about 20 cycles a byte on an 8-bit machine. */
uint16_t crc16_add(uint16_t crc, uint8_t byte)
{
    crc = (uint16_t)(crc >> 8 | crc << 8);
    crc ^= byte;
    crc ^= (uint16_t)((crc & 0xFFu) >> 4);
    crc ^= (uint16_t)(crc << 12);
    crc ^= (uint16_t)((crc & 0xFFu) << 5);
    return crc;
}

uint16_t crc16(const uint8_t *bytes, uint8_t length)
{
    uint16_t crc = CRC16_START;
    while (length--) crc = crc16_add(crc, *bytes++);
    return crc;
}
