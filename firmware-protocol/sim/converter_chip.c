#include <stddef.h>
#include "board.h"
#include "avr_ioport.h"

enum { PIN_DATA = 2, PIN_CLOCK = 3 };
#define BITS 24
#define POWER_DOWN_US 60.0          /* a clock that stays high so long switches the converter off */

converter_chip_t chip = { .rate_hertz = 80, .counts_per_newton = 10000, .zero_counts = 84000, .on = 1, .noise = 20 };
static int level, pulses, unread, off;
static int32_t latched;
static avr_cycle_count_t clock_rose;
static uint32_t noise_state = 1;

static unsigned long due;

static void data(int value) { level = value; drive_pin('D', PIN_DATA, chip.low ? 0 : value); }

void chip_low(int low) { chip.low = low; data(level); }

static avr_cycle_count_t convert(avr_t *a, avr_cycle_count_t when, void *unused)
{
    (void)a; (void)unused;
    avr_cycle_count_t next = when + (avr_cycle_count_t)(F_CPU / chip.rate_hertz);
    if (!chip.on || off) { data(1); return next; }
    if (chip.starve && ++due % (unsigned long)chip.starve == 0) return next;
    if (pulses > 0 && pulses < BITS) { chip.missed++; return next; }      /* it is being read */
    if (unread) chip.missed++;
    noise_state = noise_state * 1664525u + 1013904223u;
    double counts = chip.zero_counts + specimen_force() * chip.counts_per_newton;
    if (chip.noise) counts += (double)((int32_t)(noise_state >> 16) % chip.noise) - chip.noise / 2.0;
    if (counts > 8388607) counts = 8388607;
    if (counts < -8388608) counts = -8388608;
    if (!chip.stuck) latched = (int32_t)counts;
    pulses = 0;
    unread = 1;
    chip.conversions++;
    if (!level) data(1);            /* a short high while the result is replaced */
    data(0);
    return next;
}

static void on_clock(avr_irq_t *irq, uint32_t high, void *unused)
{
    (void)irq; (void)unused;
    if (high) {
        clock_rose = avr->cycle;
        off = 0;
        pulses++;
        if (pulses <= BITS) data((latched >> (BITS - pulses)) & 1);
        if (pulses == BITS) { chip.read++; unread = 0; }
        if (pulses == BITS + 1) data(1);
        return;
    }
    if (!clock_rose) return;
    double us = (double)(avr->cycle - clock_rose) / 16.0;
    if (us > chip.clock_high_us_max) chip.clock_high_us_max = us;
    if (us > POWER_DOWN_US) { chip.power_downs++; off = 1; pulses = 0; data(1); }
}

void chip_start(void)
{
    level = 1;
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), PIN_CLOCK), on_clock, NULL);
}

void chip_after_reset(void)
{
    avr_cycle_timer_register(avr, (avr_cycle_count_t)(F_CPU / chip.rate_hertz), convert, NULL);
    data(level);
}
