#ifndef RIG_CRC16_H
#define RIG_CRC16_H
#include <stdint.h>

/* CRC-16/IBM-3740 (PROTOCOL.md, 2). "123456789" gives 0x29B1. */
#define CRC16_START 0xFFFFu

uint16_t crc16_add(uint16_t crc, uint8_t byte);
uint16_t crc16(const uint8_t *bytes, uint8_t length);

#endif
