/* The reference firmware for an ATmega328P at 16 MHz. Pins and figures: pins.h. What it does: PROTOCOL.md. */
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <avr/wdt.h>
#include "avr_clock.h"
#include "avr_converter.h"
#include "avr_identity.h"
#include "avr_serial.h"
#include "avr_temperature.h"
#include "device.h"
#include "pins.h"

_Static_assert(SPEED_STEPS_PER_SECOND_MAX > 0 && SPEED_STEPS_PER_SECOND_MAX < TICK_HERTZ / 2u, "a step needs two ticks");
_Static_assert(ACCELERATION_STEPS_PER_SECOND_SQUARED_MAX > 0 && ACCELERATION_STEPS_PER_SECOND_SQUARED_MAX <= ACCELERATION_MAX, "more than the tick's ramp can do");
_Static_assert(TRAVEL_STEPS_MIN < TRAVEL_STEPS_MAX, "the travel has no length");
_Static_assert(CONVERTER_RATE_MILLIHERTZ >= CONVERTER_MILLIHERTZ_MIN, "too slow to hold a force limit");
_Static_assert(FORCE_COUNTS_MIN <= FORCE_COUNTS_MAX && FORCE_COUNTS_MIN > COUNTS_MIN && FORCE_COUNTS_MAX < COUNTS_MAX,
               "the hard force limits must lie inside the converter's range, or they are none");

/* 314 mV at 25 °C and 1 mV a degree (data sheet, typical values, from memory): good to some 10 °C as it is. For a chip that you have held against a
 * thermometer move the zero. It tells of the board, not of the specimen. */
static const channel_t chip_temperature = {
    .kind = CHANNEL_TEMPERATURE, .divider = CONVERTER_RATE_MILLIHERTZ > 10000UL ? 8u : 1u, .delay_microseconds = 50000UL,
    .zero = 269, .numerator = 275, .denominator = 256, .raw_min = 200, .raw_max = 420, .resolution = 1,
    .value = temperature_value, .unit = "\xC2\xB0" "C", .name = "Chip, not calibrated",
};

static traits_t traits = {
    .firmware_version = FIRMWARE_VERSION,
    .capabilities = CAN_MOTION | CAN_POSITION | CAN_GUARD | CAN_EMERGENCY_STOP | CAN_TRAVEL_LIMITS | CAN_HOMING,
    .converter_rate_millihertz = CONVERTER_RATE_MILLIHERTZ,
    .converter_bits = 24,
    .converter_delay_microseconds = CONVERTER_DELAY_MICROSECONDS,
    .converter_frozen_readings = CONVERTER_FROZEN_READINGS,
    .steps_per_metre = STEPS_PER_METRE,
    .force_min = FORCE_COUNTS_MIN, .force_max = FORCE_COUNTS_MAX,
    .travel_min = TRAVEL_STEPS_MIN, .travel_max = TRAVEL_STEPS_MAX,
    .speed_max = SPEED_STEPS_PER_SECOND_MAX,
    .acceleration_max = ACCELERATION_STEPS_PER_SECOND_SQUARED_MAX,
    .home_clearance = HOME_CLEARANCE_STEPS,
    .feeder = 0,                               /* none, and so not announced; port.h says what one would give */
    .channels = &chip_temperature, .channel_count = 1,
    .name = DEVICE_NAME,
};

/* What the chip should be set to, for the programmer that writes it (README.md): a 16 MHz crystal; EEPROM kept over an erase, or the device gets
 * a new id and its calibrations are another's; brown-out at 4.3 V, below which neither this program nor its EEPROM is to be trusted. */
FUSES = { .low = 0xFF, .high = 0xD1, .extended = 0xFC };

/* Outlives a reset as long as the power does: why the last program ended, where a bootloader has cleared the chip's own register. */
#define MARK 0x5AC3u
#define RESTARTS_MAX 3u
#define FORGIVEN_AFTER_MILLISECONDS 600000UL
static struct { uint16_t alive, hung; uint8_t restarts; } kept __attribute__((section(".noinit")));

static volatile uint8_t milliseconds_due;

ISR(TIMER1_COMPA_vect)
{
    static uint8_t ticks;
    uint8_t inputs = inputs_read();            /* before the step pin changes beside them */
    PORTD &= (uint8_t)~(1u << STEP_PIN);       /* ends the last pulse: one tick high */
    uint8_t answer = stepper_tick(&stepper, inputs);
    if (answer & TICK_POWER_OFF) PORTD |= 1u << NOT_ENABLE_PIN;
    if (answer & TICK_STEP) PORTD |= 1u << STEP_PIN;
    if (++ticks == TICKS_PER_MILLISECOND) { ticks = 0; milliseconds_due++; }
    if (!stepper.loop_left) kept.hung = MARK;
}

uint8_t port_lock(void)                 { uint8_t before = SREG; cli(); return before; }
void    port_unlock(uint8_t before)     { SREG = before; }
void    port_direction(int8_t direction)
{
    if (direction > 0) PORTD |= 1u << DIRECTION_PIN; else PORTD &= (uint8_t)~(1u << DIRECTION_PIN);
}
void port_motor_power(uint8_t on)
{
    if (on) PORTD &= (uint8_t)~(1u << NOT_ENABLE_PIN); else PORTD |= 1u << NOT_ENABLE_PIN;
}
uint32_t port_microseconds(void)
{
    uint8_t before = port_lock();
    uint32_t now = clock_microseconds();
    port_unlock(before);
    return now;
}

/* The watchdog stays on after it has reset the chip, at its shortest time: off with it before anything slow. */
static uint8_t reset_cause __attribute__((section(".noinit")));
void before_main(void) __attribute__((naked, used, section(".init3")));
void before_main(void) { reset_cause = MCUSR; MCUSR = 0; wdt_disable(); }

static uint8_t start_cause(void)
{
    uint8_t cause = 0, power_was_on = kept.alive == MARK;
    if (reset_cause & 1u << WDRF) cause |= START_BY_WATCHDOG;
    if (reset_cause & 1u << PORF) cause |= START_POWER_ON;
    if (reset_cause & 1u << BORF) cause |= START_BROWN_OUT;
    if (reset_cause & 1u << EXTRF) cause |= START_RESET_PIN;
    if (!cause && power_was_on) cause = kept.hung == MARK ? START_UNTOLD | START_BY_WATCHDOG : START_UNTOLD;
    if (!(cause & START_BY_WATCHDOG)) kept.restarts = 0;
    else kept.restarts = !power_was_on ? 1 : kept.restarts < UINT8_MAX ? kept.restarts + 1u : RESTARTS_MAX;
    if (kept.restarts >= RESTARTS_MAX) cause |= START_HELD;
    kept.alive = MARK;
    kept.hung = 0;
    return cause;
}

static void pins_start(void)
{
    PORTD = 1u << NOT_ENABLE_PIN | 1u << DIRECTION_PIN | 1u << CONVERTER_DATA;      /* levels before outputs: the motor never twitches.
                                                  The data line's pull-up: with its wire off no conversion comes */
    DDRD  = 1u << PD1 | 1u << CONVERTER_CLOCK | 1u << STEP_PIN | 1u << DIRECTION_PIN | 1u << NOT_ENABLE_PIN;
    PORTC = PULL_UPS;
}

static void tick_start(void)
{
    TCCR1A = 0;
    TCCR1B = 1u << WGM12 | 1u << CS10;         /* the mode before OCR1A, or the simulator warns */
    OCR1A  = (uint16_t)(CYCLES_PER_TICK - 1UL);
    TIMSK1 = 1u << OCIE1A;
}

static void work(void)
{
    uint8_t byte;
    int32_t counts, position;
    uint32_t stamp;
    while (serial_take(&byte)) device_byte(byte);
    switch (converter_read(&counts, &stamp, &position)) {
    case CONVERTER_READ: device_conversion(counts, stamp, position); break;
    case CONVERTER_LOW: device_conversion_failed(); break;
    default: break;
    }
    if (milliseconds_due) {
        cli();
        milliseconds_due--;
        sei();
        device_millisecond();
        static uint32_t well;
        kept.hung = 0;
        if (++well == FORGIVEN_AFTER_MILLISECONDS) kept.restarts = 0;
        wdt_reset();                           /* only here: a dead tick resets the chip too */
    }
}

int main(void)
{
    pins_start();
    serial_start();
    temperature_start();
    uint8_t cause = start_cause();
    identity_read(&traits.device_id, &traits.boot_number, kept.restarts);
    device_start(&traits, inputs_read(), cause);
    tick_start();
    converter_pins_start();
    wdt_enable(WDTO_250MS);
    set_sleep_mode(SLEEP_MODE_IDLE);
    sei();
    for (;;) {
        work();
        cli();
        if (serial_waits() || converter_waits() || milliseconds_due) { sei(); continue; }
        sleep_enable();
        sei();
        sleep_cpu();
        sleep_disable();
    }
}
