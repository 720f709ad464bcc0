#ifndef RIG_AVR_SERIAL_H
#define RIG_AVR_SERIAL_H
#include <stdint.h>

/* The UART, both ways through rings. */
void    serial_start(void);
/* 1 and a byte, or 0. */
uint8_t serial_take(uint8_t *byte);
uint8_t serial_waits(void);
#endif
