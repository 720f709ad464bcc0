#ifndef RIG_AVR_CONVERTER_H
#define RIG_AVR_CONVERTER_H
#include <stdint.h>

/* A 24-bit load-cell converter on two pins: it pulls its data pin low when a conversion is ready, and shifts it out by clock pulses. */
void    converter_pins_start(void);
enum { CONVERTER_NOTHING, CONVERTER_READ, CONVERTER_LOW };
/* CONVERTER_LOW: the data line stayed low after the last pulse, where this kind of converter lets it go up until the next conversion is
 * ready. It is shorted, or the converter has no supply or no clock: what was read are zeros that nobody measured. */
uint8_t converter_read(int32_t *counts, uint32_t *stamp_microseconds, int32_t *position);
uint8_t converter_waits(void);
#endif
