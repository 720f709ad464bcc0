#ifndef RIG_CRC8_H
#define RIG_CRC8_H
#include <stdint.h>
/* CRC-8/SMBUS: polynomial 0x07, start 0, not reflected. "123456789" gives 0xF4 (catalogue of parametrised CRC algorithms, from memory). */
static inline uint8_t crc8(const volatile uint8_t *bytes, uint8_t length)
{
    uint8_t crc = 0;
    while (length--) {
        crc ^= *bytes++;
        for (uint8_t bit = 0; bit < 8; bit++) crc = (uint8_t)((uint32_t)crc << 1 ^ (crc & 0x80u ? 0x07u : 0u));
    }
    return crc;
}
#endif
