#ifndef AVR_TEMPERATURE_H
#define AVR_TEMPERATURE_H
#include <stdint.h>

/* The chip's own temperature, by its own converter: no pin, no interrupt. */
void    temperature_start(void);
/* The newest reading, 0 to 1023 (1.1 V / 1024 each), or CHANNEL_NONE before the second one. Starts the next. */
int32_t temperature_value(void);
#endif
