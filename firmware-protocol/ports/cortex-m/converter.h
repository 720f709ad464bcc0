#ifndef RIG_CONVERTER_PORT_H
#define RIG_CONVERTER_PORT_H
#include <stdint.h>

/* A converter behind SPI that says when it is ready: at its falling edge the interrupt takes stamp and position, the main loop reads the frame. For another
 * chip change converter_frame alone. */
enum { CONVERTER_NOTHING, CONVERTER_READ, CONVERTER_WRONG };
void    converter_pins_start(void);
uint8_t converter_read(int32_t sign, int32_t *counts, uint32_t *stamp, int32_t *position);

/* What one exchange of bytes gives: the SPI, or what stands in its place. */
void    spi_exchange(const uint8_t *out, uint8_t *in, uint8_t length);
#endif
