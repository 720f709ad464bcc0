#ifndef RIG_AVR_CONVERTER_H
#define RIG_AVR_CONVERTER_H
#include <stdint.h>

/* A 24-bit load-cell converter on two pins: it pulls its data pin low when a conversion is ready, and shifts it out by clock pulses. */
void    converter_pins_start(void);
/* 1 when a conversion was read. */
uint8_t converter_read(int32_t *counts, uint32_t *stamp_microseconds, int32_t *position);
uint8_t converter_waits(void);
#endif
