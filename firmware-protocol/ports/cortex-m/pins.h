#ifndef RIG_PINS_H
#define RIG_PINS_H
#include "chip.h"
#include "stepper.h"

/*   PB0 guard                 PC4 step                          PA0, PA1 the line (UART 0)
 *   PB1 emergency stop        PC5 direction (high: apart)       PD2, PD3 the driver's set-up line (UART 1)
 *   PB2 lower limit           PC6 enable (low: powered)         PA2..PA5 converter (SPI: clock, select, in, out)
 *   PB3 upper limit
 *   PB4 driver's fault or stall output (low: it reports one)
 *   PB5 converter: data ready (falls)
 *
 * The contacts as in ports/avr/pins.h: normally closed to ground, with the chip's pull-ups, so that a cut wire reads as open, pressed, reached. Outputs that
 * must be off without this program (enable) want a pull-up of their own. */
enum { GUARD = 1 << 0, EMERGENCY_STOP = 1 << 1, CONTACTS = 0x0F, DRIVER_TROUBLE = 1 << 4, CONVERTER_READY = 1 << 5 };
enum { STEP = 1 << 4, DIRECTION = 1 << 5, NOT_ENABLE = 1 << 6 };

void pins_start(void);
static inline uint8_t inputs_read(void)
{
    uint32_t pins = GPIO_DATA(GPIO_B, CONTACTS | DRIVER_TROUBLE);
    return (uint8_t)(((pins ^ (GUARD | EMERGENCY_STOP)) & CONTACTS) | (pins & DRIVER_TROUBLE ? 0 : INPUT_DRIVER_FAULT));
}
static inline void output(uint32_t pin, uint8_t high) { GPIO_DATA(GPIO_C, pin) = high ? pin : 0; }
#endif
