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
/* So many readings equal to the one before are a converter that has frozen: at this gain the last bits are noise. 0 where yours is quieter. */
#ifndef CONVERTER_FROZEN_READINGS
#define CONVERTER_FROZEN_READINGS 8u
#endif
/* Half a conversion: its filter looks back over one. An assumption: a filter of this kind can settle over three or four. Measure it (a weight
 * let down quickly) and write it here, for the peak's and the overshoot's sake. */
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
/* What the cell bears, in counts as converted: zero reading plus and minus capacity times counts per newton. There is no figure that is right
 * for every cell: a cell of 2 mV/V reaches its capacity at about half of the converter's range. Until you set both here (or in EXTRA on the
 * command line) the image measures and moves nothing. */
#ifndef FORCE_COUNTS_MAX
#define FORCE_COUNTS_MIN 0L
#define FORCE_COUNTS_MAX 0L
#endif

#define DEVICE_NAME (FORCE_COUNTS_MAX ? "Rig on an 8-bit board" : "No force limits set in pins.h")
#define FIRMWARE_VERSION 0x0100u
#endif
