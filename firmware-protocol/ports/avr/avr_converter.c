#include <avr/interrupt.h>
#include <util/delay_basic.h>
#include "avr_clock.h"
#include "avr_converter.h"
#include "device.h"
#include "pins.h"

static volatile uint8_t ready;
static volatile uint32_t ready_at;
static volatile int32_t ready_position;

/* With interrupts off. */
static void conversion_ends(void)
{
    EIMSK &= (uint8_t)~(1u << INT0);           /* the data bits make edges on this pin too */
    ready_at = clock_microseconds();
    ready_position = stepper.position;
    ready = 1;
}

ISR(INT0_vect) { conversion_ends(); }

/* Waits for the next edge, unless it has been already: at a restart, or when this program was late. It would not come again. */
static void await_conversion(void)
{
    uint8_t before = SREG;
    cli();
    ready = 0;
    EIFR  = 1u << INTF0;
    EIMSK |= 1u << INT0;
    if (!(PIND & (1u << CONVERTER_DATA))) conversion_ends();
    SREG = before;
}

void converter_pins_start(void)
{
    EICRA = 1u << ISC01;                       /* falling edge */
    await_conversion();
}

uint8_t converter_waits(void) { return ready; }

static uint8_t pulse(void)
{
    uint8_t before = SREG;
    cli();                                     /* a clock that stays high for 60 µs switches the converter off: one pulse, no longer */
    PORTD |= 1u << CONVERTER_CLOCK;
    _delay_loop_1(4);                          /* 0.75 µs */
    PORTD &= (uint8_t)~(1u << CONVERTER_CLOCK);
    SREG = before;
    return (PIND >> CONVERTER_DATA) & 1u;
}

uint8_t converter_read(int32_t *counts, uint32_t *stamp, int32_t *position)
{
    if (!ready) return CONVERTER_NOTHING;
    *stamp = ready_at;                         /* stable: the interrupt is off until the bits are out */
    *position = ready_position;
    uint32_t bits = 0;
    for (uint8_t i = 0; i < 24; i++) bits = bits << 1 | pulse();
    uint8_t high = 0;
    for (uint8_t i = 0; i < CONVERTER_EXTRA_PULSES; i++) high = pulse();
    if (bits & 0x800000UL) bits |= 0xFF000000UL;
    *counts = CONVERTER_SIGN * (int32_t)bits;
    if (*counts > COUNTS_MAX) *counts = COUNTS_MAX;
    await_conversion();
    return high ? CONVERTER_READ : CONVERTER_LOW;
}
