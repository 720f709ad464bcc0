#ifndef RIG_PINS_H
#define RIG_PINS_H
#include <avr/io.h>
#include "stepper.h"

/* Every pin and figure of this rig, in one place: change them here, and nowhere else.
 *
 *   PD0 receive          PD2 converter data (falls when a conversion is ready: INT0)     PC0 guard
 *   PD1 transmit         PD3 converter clock                                            PC1 emergency stop
 *                        PD4 step    PD5 direction (high: grips apart)                  PC2 lower travel limit (grips together)
 *                        PD6 enable (low: motor powered)                                PC3 upper travel limit (grips apart)
 *                                                                                       PC4 driver's fault (low: it reports one)
 *
 * The first four inputs are normally-closed contacts to ground with the chip's pull-ups: a cut wire reads as open, pressed, reached. The
 * emergency stop's own contact cuts the motor's supply; this pin only sees its second contact. The guard likewise, if it can. PC4 takes
 * the open-drain fault output that many step drivers have; with nothing connected the pull-up reads as no fault. For a driver whose
 * output is high at a fault set DRIVER_FAULT_LEVEL to 1 and connect it always. */
#define CONVERTER_DATA  PD2
#define CONVERTER_CLOCK PD3
#define STEP_PIN        PD4
#define DIRECTION_PIN   PD5
#define NOT_ENABLE_PIN  PD6
#define CONTACTS_MASK   0x0Fu
#define DRIVER_FAULT    PC4
#ifndef DRIVER_FAULT_LEVEL
#define DRIVER_FAULT_LEVEL 0
#endif
#define PULL_UPS        (CONTACTS_MASK | 1u << DRIVER_FAULT)
/* The contacts lie in the order of the wire's bits; for guard and emergency stop low is the good state. One read of the port, so that
 * all five are of the same moment. */
static inline uint8_t inputs_read(void)
{
    uint8_t pins = PINC;
    uint8_t fault = ((pins >> DRIVER_FAULT) & 1u) == DRIVER_FAULT_LEVEL ? INPUT_DRIVER_FAULT : 0;
    return (uint8_t)(((pins ^ 0x03u) & CONTACTS_MASK) | fault);
}

/* The converter's strap: 80 or 10 conversions a second. */
#ifndef CONVERTER_RATE_MILLIHERTZ
#define CONVERTER_RATE_MILLIHERTZ 80000UL
#endif
/* Half a conversion: its filter looks back over one. */
#define CONVERTER_DELAY_MICROSECONDS (500000000UL / CONVERTER_RATE_MILLIHERTZ)
/* +1 or -1, so that counts rise with tension. */
#define CONVERTER_SIGN  1
/* Pulses after the 24 bits choose channel and gain of the next conversion: 1, 2 or 3. */
#define CONVERTER_EXTRA_PULSES 1u

/* A screw of 4 mm a turn, 200 steps a turn in eighths: 400 steps/mm. */
#define STEPS_PER_METRE 400000UL
/* Home lies this far from where the lower limit opens: room for a motion to end before it closes. */
#define HOME_CLEARANCE_STEPS 400L
#define TRAVEL_STEPS_MIN (-200L)
#define TRAVEL_STEPS_MAX 60000L
#define SPEED_STEPS_PER_SECOND_MAX 4000UL
#define ACCELERATION_STEPS_PER_SECOND_SQUARED_MAX 40000UL
/* What the cell bears, in counts, and as much the other way. */
#define FORCE_COUNTS_MIN (-8000000L)
#define FORCE_COUNTS_MAX 8000000L

#define DEVICE_NAME "Rig on an 8-bit board"
#define FIRMWARE_VERSION 0x0100u
#endif
