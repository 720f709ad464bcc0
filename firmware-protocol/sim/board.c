#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "board.h"
#include "avr_extint.h"
#include "avr_ioport.h"
#include "sim_elf.h"

enum { PIN_STEP = 4, PIN_DIRECTION = 5, PIN_NOT_ENABLE = 6 };
#define TICK_VECTOR 11              /* TIMER1_COMPA */
#define PAINT 0xA5

avr_t *avr;
motor_t motor = { .direction = 1, .high_us_min = 1e9, .gap_us_min = 1e9, .lower_switch = -200 };
static int input_level[INPUTS] = { [INPUT_DRIVER] = 1 }, step_level, was_reset, paint_from;
static avr_cycle_count_t step_rose, last_step, next_millisecond = CYCLES_PER_MILLISECOND, slept, tick_began, tick_max, tick_sum;
static unsigned long ticks;
static void (*core_reset)(avr_t *);

/* The simulator puts an input with its pull-up on back to 1 whenever the image writes the same port, unless the outside value is
 * also given as "external": so both, always. */
void drive_pin(char port, int pin, int level)
{
    static uint8_t mask[256], value[256];
    uint8_t *m = &mask[(uint8_t)port], *v = &value[(uint8_t)port];
    *m |= (uint8_t)(1 << pin);
    *v = (uint8_t)((*v & ~(1 << pin)) | (level ? 1 << pin : 0));
    avr_ioport_external_t external = { .name = (unsigned)port, .mask = *m, .value = *v };
    avr_ioctl(avr, AVR_IOCTL_IOPORT_SET_EXTERNAL(port), &external);
    avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(port), pin), (uint32_t)level);
}

void board_input(int input, int level) { input_level[input] = level; drive_pin('C', input, level); }

static struct { int on, off, over; } chatter[INPUTS];

static avr_cycle_count_t chatters(avr_t *a, avr_cycle_count_t when, void *which)
{
    (void)a;
    int input = (int)(long)which;
    int on = chatter[input].on;
    chatter[input].over = on && !chatter[input].over;
    drive_pin('C', input, input_level[input] ^ chatter[input].over);
    return on ? when + (avr_cycle_count_t)(chatter[input].over ? on : chatter[input].off) * 16u : 0;
}

void board_chatter(int input, int on, int off)
{
    if (on && !chatter[input].on) avr_cycle_timer_register(avr, 16, chatters, (void *)(long)input);
    chatter[input].on = on;
    chatter[input].off = off;
}

void board_switches(void)
{
    int closed = motor.position <= motor.lower_switch;
    if (closed != input_level[INPUT_LOWER_LIMIT]) board_input(INPUT_LOWER_LIMIT, closed);
}

static void on_step(avr_irq_t *irq, uint32_t level, void *unused)
{
    (void)irq; (void)unused;
    if ((int)level == step_level) return;
    step_level = (int)level;
    if (!level) {
        double high = (double)(avr->cycle - step_rose) / 16.0;
        if (high < motor.high_us_min) motor.high_us_min = high;
        return;
    }
    step_rose = avr->cycle;
    if (last_step) {
        double gap = (double)(avr->cycle - last_step) / 16.0;
        if (gap < motor.gap_us_min) motor.gap_us_min = gap;
    }
    last_step = avr->cycle;
    if (!motor.powered) { motor.steps_without_power++; return; }
    motor.position += motor.swapped ? -motor.direction : motor.direction;
    motor.steps++;
    motor.last_step_s = board_seconds();
    specimen_force();
    board_switches();
}
static void on_direction(avr_irq_t *irq, uint32_t level, void *u) { (void)irq; (void)u; motor.direction = level ? 1 : -1; }
static void on_not_enable(avr_irq_t *irq, uint32_t level, void *u)
{
    (void)irq; (void)u;
    if (motor.powered && level) motor.power_off_s = board_seconds();
    motor.powered = !level;
}
static void on_tick(avr_irq_t *irq, uint32_t level, void *u)
{
    (void)irq; (void)u;
    if (level) { tick_began = avr->cycle; return; }
    avr_cycle_count_t took = avr->cycle - tick_began;
    if (took > tick_max) tick_max = took;
    tick_sum += took;
    ticks++;
}
static void on_sleep(avr_t *a, avr_cycle_count_t cycles) { (void)a; slept += cycles; }    /* the pace is ours, not the simulator's */

static void on_reset(avr_t *a)
{
    if (core_reset) core_reset(a);
    was_reset = 1;
}

/* A reset, by the watchdog too, drops every cycle timer: ours must be set again. The enable pin floats, and is pulled off. */
static void after_reset(void)
{
    avr->run_cycle_limit = CYCLES_PER_MILLISECOND;
    avr_extint_set_strict_lvl_trig(avr, 0, 0);  /* else a low pin in the default mode is polled on every cycle */
    avr_extint_set_strict_lvl_trig(avr, 1, 0);
    for (int i = 0; i < INPUTS; i++) {          /* the reset cleared the pins, and one that is told its old level is not told at all */
        drive_pin('C', i, !input_level[i]);
        board_input(i, input_level[i]);
    }
    motor.powered = 0;
    chip_after_reset();
    serial_after_reset();
}

void board_start(const char *elf)
{
    elf_firmware_t image;
    memset(&image, 0, sizeof image);
    if (elf_read_firmware(elf, &image)) { fprintf(stderr, "cannot read %s\n", elf); exit(1); }
    avr = avr_make_mcu_by_name("atmega328p");
    if (!avr) { fprintf(stderr, "the simulator has no such chip\n"); exit(1); }
    avr_init(avr);
    avr->log = LOG_WARNING;
    avr->frequency = image.frequency = (uint32_t)F_CPU;
    avr_load_firmware(avr, &image);
    avr->sleep = on_sleep;
    avr_irq_register_notify(avr_get_interrupt_irq(avr, TICK_VECTOR) + 1, on_tick, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), PIN_STEP), on_step, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), PIN_DIRECTION), on_direction, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), PIN_NOT_ENABLE), on_not_enable, NULL);
    paint_from = (int)(0x100 + image.datasize + image.bsssize + 1);
    memset(avr->data + 0x100, PAINT, (size_t)(avr->ramend - 0x100 + 1));
    chip_start();
    core_reset = avr->reset;
    avr->reset = on_reset;
    after_reset();
}

int board_millisecond(void)
{
    while (avr->cycle < next_millisecond) {
        int state = avr_run(avr);
        if (state == cpu_Done || state == cpu_Crashed) { fprintf(stderr, "the image crashed at %.3f s\n", board_seconds()); return 0; }
        if (was_reset) { was_reset = 0; motor.resets++; after_reset(); }
    }
    next_millisecond += CYCLES_PER_MILLISECOND;
    return 1;
}

/* A jump to itself at the end of the flash. */
void board_hang(int interrupts_too)
{
    const uint32_t at = 0x7FFE;
    avr->flash[at] = 0xFF;
    avr->flash[at + 1] = 0xCF;
    avr->pc = at;
    avr->state = cpu_Running;
    if (interrupts_too) avr->sreg[S_I] = 0;
}

double board_seconds(void)              { return (double)avr->cycle / F_CPU; }
double board_idle_share(void)           { return (double)slept / (double)avr->cycle; }
unsigned long board_tick_cycles_max(void) { return (unsigned long)tick_max; }
double board_tick_cycles_mean(void)     { return ticks ? (double)tick_sum / (double)ticks : 0; }
/* The longest stretch that nothing was written to: between what the program keeps and the deepest its stack went. */
int board_ram_never_used(void)
{
    int most = 0, n = 0;
    for (int i = paint_from; i < avr->ramend; i++) {
        n = avr->data[i] == PAINT ? n + 1 : 0;
        if (n > most) most = n;
    }
    return most;
}
