#include <avr/io.h>
#include "avr_temperature.h"
#include "wire.h"

#define CHIP_SENSOR (1u << REFS1 | 1u << REFS0 | 1u << MUX3)         /* its reference of 1.1 V, its sensor */
#define CONVERT     (1u << ADEN | 1u << ADSC | 1u << ADPS2 | 1u << ADPS1 | 1u << ADPS0)      /* at 125 kHz: done in 0.2 ms */

static uint8_t settled;

void temperature_start(void)
{
    ADMUX = CHIP_SENSOR;
    ADCSRA = CONVERT;
}

int32_t temperature_value(void)
{
    static int32_t last = CHANNEL_NONE;
    if (ADCSRA & 1u << ADSC) return last;
    int32_t reading = (int32_t)ADC;
    ADCSRA = CONVERT;
    if (!settled) { settled = 1; return CHANNEL_NONE; }      /* the first after the reference was chosen is none (data sheet, from memory) */
    return last = reading;
}
