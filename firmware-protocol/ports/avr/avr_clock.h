#ifndef RIG_AVR_CLOCK_H
#define RIG_AVR_CLOCK_H
#include <avr/interrupt.h>
#include <avr/io.h>
#include "device.h"

#define CYCLES_PER_TICK (F_CPU / TICK_HERTZ)

/* With interrupts off. A tick that is due but not yet counted shows in the timer's flag. */
static inline uint32_t clock_microseconds(void)
{
    uint16_t cycles = TCNT1;
    uint32_t ticks = stepper.ticks;
    if (TIFR1 & (1u << OCF1A)) {
        cycles = TCNT1;
        ticks++;
    }
    return ticks * MICROSECONDS_PER_TICK + cycles / (F_CPU / 1000000UL);
}
#endif
