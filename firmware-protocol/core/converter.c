#include "converter.h"
#include "device.h"
#include "faults.h"

/* Readings at an end of the range that make a fault; one alone can be a spark. */
#define END_STOP_READINGS 3u
#define SETTLING_MILLISECONDS 1000u
#define PERIOD_SMOOTHING 16
#define PERIODS_SILENT 4u
/* Beyond this two stamps are no period. */
#define APART_MAX_MICROSECONDS 2000000u

static struct {
    int32_t  counts, before;
    uint32_t stamp, period_nanoseconds;
    uint16_t silent_milliseconds, silent_max;
    uint8_t  alive, at_end;
} converter;

void converter_start(void)
{
    uint32_t period = device.traits->converter_rate_millihertz ? 1000000u / device.traits->converter_rate_millihertz : 0;
    converter.silent_max = (uint16_t)(PERIODS_SILENT * period + 20u);
    converter.alive = converter.at_end = 0;
    converter.silent_milliseconds = 0;
    converter.period_nanoseconds = 0;
    converter.counts = converter.before = 0;
}

uint8_t  converter_alive(void)              { return converter.alive; }
uint8_t  converter_sound(void)              { return converter.alive && converter.at_end < END_STOP_READINGS; }
uint32_t converter_period_nanoseconds(void) { return converter.period_nanoseconds; }
int32_t  converter_counts(void)             { return converter.counts; }
int32_t  converter_counts_before(void)      { return converter.before; }

void converter_conversion(int32_t counts, uint32_t stamp)
{
    int32_t top = (int32_t)((1UL << (device.traits->converter_bits - 1u)) - 1u);
    if (counts >= top || counts <= -top - 1) { if (converter.at_end < END_STOP_READINGS) converter.at_end++; }
    else converter.at_end = 0;

    uint32_t apart = stamp - converter.stamp;
    if (converter.alive && apart < APART_MAX_MICROSECONDS) {
        int32_t fresh = (int32_t)(apart * 1000u), old = (int32_t)converter.period_nanoseconds;
        if (!old) converter.period_nanoseconds = apart * 1000u;
        else if (apart < 2u * ((uint32_t)old / 1000u)) converter.period_nanoseconds = (uint32_t)(old + (fresh - old) / PERIOD_SMOOTHING);
    }
    converter.stamp = stamp;
    converter.before = converter.counts;
    converter.counts = counts;
    converter.alive = 1;
    converter.silent_milliseconds = 0;
    if (converter.at_end == END_STOP_READINGS && device.uptime_milliseconds >= SETTLING_MILLISECONDS) fault_latch(FAULT_CONVERTER);
}

void converter_millisecond(void)
{
    if (converter.silent_milliseconds < converter.silent_max) { converter.silent_milliseconds++; return; }
    converter.alive = 0;
    if (device.uptime_milliseconds >= SETTLING_MILLISECONDS && !(device.faults & FAULT_CONVERTER)) fault_latch(FAULT_CONVERTER);
}
