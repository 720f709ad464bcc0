/* The firmware for a 32-bit board. Pins: pins.h. A rig's figures: the page of settings (settings.h). What it does: PROTOCOL.md. */
#include "chip.h"
#include "converter.h"
#include "device.h"
#include "driver.h"
#include "identity.h"
#include "pins.h"
#include "serial.h"
#include "settings.h"

#define FIRMWARE_VERSION 0x0101u
#define FROZEN_READINGS 50u                    /* its last bits are noise: so many equal readings are none */
#define WATCHDOG_MILLISECONDS 125u             /* it bites at the second time */

static traits_t traits = { .firmware_version = FIRMWARE_VERSION, .converter_bits = 24, .converter_frozen_readings = FROZEN_READINGS, .converter_rate_millihertz = 400000, .force_min = -1, .force_max = 1,
                           .name = "No settings: see settings.py" };
void millisecond_is_done(void);
static volatile uint8_t milliseconds_due, driver_in_trouble;
#ifdef SIMULATED_CONVERTER
extern volatile int32_t simulated_position;
#endif

void tick_interrupt(void)
{
    static uint8_t ticks, high;
    REG(TIMER0 + TIMER_ICR) = 1u;
    uint8_t inputs = inputs_read();
    if (driver_in_trouble) inputs |= INPUT_DRIVER_FAULT;
    if (high) { output(STEP, 0); high = 0; }   /* ends the last pulse: one tick high */
    uint8_t answer = stepper_tick(&stepper, inputs);
    if (answer & TICK_POWER_OFF) output(NOT_ENABLE, 1);
    if (answer & TICK_STEP) {
        output(STEP, 1);
        high = 1;
#ifdef SIMULATED_CONVERTER
        simulated_position += GPIO_DATA(GPIO_C, DIRECTION) ? 1 : -1;
#endif
    }
    if (++ticks == TICKS_PER_MILLISECOND) { ticks = 0; milliseconds_due++; }
}

uint8_t port_lock(void)
{
    uint32_t before;
    __asm volatile("mrs %0, primask\n\tcpsid i" : "=r"(before) :: "memory");
    return (uint8_t)before;
}
void     port_unlock(uint8_t before)    { __asm volatile("msr primask, %0" :: "r"((uint32_t)before) : "memory"); }
void     port_motor_power(uint8_t on)   { output(NOT_ENABLE, !on); }
void     port_direction(int8_t way)     { output(DIRECTION, way > 0); }
uint32_t port_microseconds(void)        { return stepper.ticks * MICROSECONDS_PER_TICK; }

void pins_start(void)
{
    GPIO_DATA(GPIO_C, NOT_ENABLE | DIRECTION | STEP) = NOT_ENABLE | DIRECTION;             /* levels before outputs: the motor never twitches */
    GPIO(GPIO_C, GPIO_DIR) |= STEP | DIRECTION | NOT_ENABLE;
    GPIO(GPIO_C, GPIO_DEN) |= STEP | DIRECTION | NOT_ENABLE;
    GPIO_DATA(GPIO_C, NOT_ENABLE | DIRECTION | STEP) = NOT_ENABLE | DIRECTION;             /* chips that take a level only for an output */
    GPIO(GPIO_B, GPIO_PUR) |= CONTACTS | DRIVER_TROUBLE | CONVERTER_READY;
    GPIO(GPIO_B, GPIO_DEN) |= CONTACTS | DRIVER_TROUBLE | CONVERTER_READY;
}

static void take_settings(const settings_t *s)
{
    if (!s) return;
    traits.capabilities = CAN_MOTION | CAN_POSITION | CAN_GUARD | CAN_EMERGENCY_STOP | CAN_TRAVEL_LIMITS | CAN_HOMING;
    traits.converter_rate_millihertz = s->converter_rate_millihertz;
    traits.converter_delay_microseconds = s->converter_delay_microseconds;
    traits.steps_per_metre = s->steps_per_metre;
    traits.speed_max = s->speed_max;
    traits.acceleration_max = s->acceleration_max;
    traits.travel_min = s->travel_min;
    traits.travel_max = s->travel_max;
    traits.home_clearance = s->home_clearance;
    traits.force_min = s->force_min;
    traits.force_max = s->force_max;
    traits.screw_needs_power = s->screw_needs_power;
    traits.closed_loop = s->closed_loop;
    traits.name = s->name;
}

static void watchdog_start(void)
{
    WATCHDOG_LOAD = CPU_HERTZ / 1000u * WATCHDOG_MILLISECONDS;
    WATCHDOG_CONTROL = 3u;                     /* resets at the second time; cannot be switched off again */
}

/* Where a simulator's lock step stops the program, once a millisecond. */
void __attribute__((noinline)) millisecond_is_done(void) { __asm volatile("nop"); }

static void work(const settings_t *s)
{
    uint8_t byte;
    int32_t counts, position;
    uint32_t stamp;
    while (serial_take(&byte)) device_byte(byte);
    switch (converter_read(s ? s->converter_sign : 1, &counts, &stamp, &position)) {
    case CONVERTER_READ: device_conversion(counts, stamp, position); break;
    case CONVERTER_WRONG: device_conversion_failed(); break;
    default: break;
    }
    if (milliseconds_due) {
        uint8_t before = port_lock();
        milliseconds_due--;
        port_unlock(before);
        driver_in_trouble = driver_millisecond();
        device_millisecond();
        WATCHDOG_CLEAR = 1u;                   /* only here: a dead tick resets the chip too */
        serial_pass_on();
        millisecond_is_done();
    }
    serial_pass_on();
}

int main(void)
{
    const settings_t *settings = settings_read();
    uint32_t cause = RESC;
    RESC = 0;
    chip_start();
    pins_start();
    serial_start();
    take_settings(settings);
    chip_timer(TIMER1, traits.converter_rate_millihertz / 1000u);      /* the second clock of identity.c, and a simulated converter's */
    traits.device_id = identity_device();
    traits.boot_number = identity_boot();
    driver_start(settings);
    driver_in_trouble = driver_millisecond();
    device_start(&traits, inputs_read(), cause & RESC_WATCHDOG ? START_BY_WATCHDOG : cause & RESC_BROWN_OUT ? START_BROWN_OUT : START_POWER_ON);
    NVIC_PRIORITY(IRQ_TIMER0, 0);
    NVIC_ENABLE(IRQ_TIMER0);
    chip_timer(TIMER0, TICK_HERTZ);
    converter_pins_start();
    watchdog_start();
    for (;;) {
        work(settings);
#ifndef NO_SLEEP
        __asm volatile("wfi");                 /* the tick wakes it, at the latest */
#endif
    }
}
