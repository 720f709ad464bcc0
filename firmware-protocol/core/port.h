#ifndef RIG_PORT_H
#define RIG_PORT_H
#include <stdint.h>

/* What a port gives the core. All of it is called from the main loop, but for port_motor_power, which the port's tick
 * interrupt may call as well. */

/* Free bytes of the transmit buffer, and one byte into it. Never waits; the core asks for room first. The buffer holds
 * at least 79 + 5 * BLOCK_SAMPLES_MAX bytes: a block, and what is kept free beside it. */
uint16_t port_transmit_room(void);
void     port_transmit(uint8_t byte);

/* Microseconds since the start, wrapping. */
uint32_t port_microseconds(void);

void     port_motor_power(uint8_t on);
/* +1: grips apart. */
void     port_direction(int8_t direction);

/* Keeps the tick interrupt out, and lets it in again as it was. */
uint8_t  port_lock(void);
void     port_unlock(uint8_t before);

/* What puts the next specimen into the grips, where there is such a thing (PROTOCOL.md, 9): an arm, a magazine. Called from the main loop.
 * The core holds guard, keep-alive, time and force while it works. Its drives have to hang on the same power as the motor: the tick cuts
 * that (TICK_POWER_OFF) also when the main loop is stuck. */
enum { FEEDER_WORKS, FEEDER_LOADED, FEEDER_EMPTY };
typedef struct {
    void    (*begin)(void);
    uint8_t (*work)(void);                     /* once a millisecond: how far it is */
    void    (*stop)(void);                     /* at the end, and at once when anything stops it: everything of it stands */
    uint8_t (*inputs)(void);                   /* INPUT_SPECIMEN_LOADED, INPUT_FEEDER_EMPTY as they are now */
} feeder_t;

/* A channel besides the force (PROTOCOL.md, 20): a value is (raw - zero) * numerator / denominator of its unit. Nothing is stopped by it. */
typedef struct {
    uint8_t  kind;                             /* CHANNEL_FORCE, ... */
    uint16_t divider;                          /* one value for so many conversions, 1 or more; each goes out in a block of its own: for slow ones */
    uint32_t delay_microseconds;
    int32_t  zero, numerator;
    uint32_t denominator;
    int32_t  raw_min, raw_max;
    uint16_t resolution;
    int32_t (*value)(void);                    /* the newest one, within 24 bits, or CHANNEL_NONE. Called from the main loop; never waits */
    const char *unit, *name;
} channel_t;

/* What this device is; written once by the port. What it says is checked at the start: see traits_capabilities. */
typedef struct {
    uint64_t device_id;
    uint32_t boot_number;
    uint16_t firmware_version;
    uint32_t capabilities;
    uint32_t converter_rate_millihertz;
    uint8_t  converter_bits;
    uint32_t converter_delay_microseconds;
    uint8_t  converter_frozen_readings;        /* this many readings equal to the one before are no measurement: below the noise of the last bits; 0: never */
    uint32_t steps_per_metre;
    int32_t  force_min, force_max;             /* counts; what the cell bears. Both 0, or not set: nothing moves */
    int32_t  travel_min, travel_max;           /* steps from home */
    uint32_t speed_max;                        /* steps/s, below half of TICK_HERTZ */
    uint32_t acceleration_max;                 /* steps/s² */
    int32_t  home_clearance;                   /* steps from where the lower limit opens to home: room for a motion to end */
    uint8_t  screw_needs_power;                /* 1: without power the crosshead falls (a ball screw without a brake). An open guard then leaves the motor on at
                                                * standstill, and what a hand can reach stands by the motor's hold alone: build-a-rig.md */
    uint8_t  closed_loop;                      /* 1: the drive keeps its place over a loss of power in motion; else that un-homes */
    const feeder_t *feeder;                    /* NULL for none: then CAN_FEEDER is not announced, and Feed is NotCapable */
    const channel_t *channels;                 /* NULL for none: then CAN_CHANNELS is not announced, and Channel is an unknown type */
    uint8_t  channel_count;                    /* up to CHANNELS_MAX */
    const char *name;
} traits_t;

/* Slower converters hold no force limit. */
#define CONVERTER_MILLIHERTZ_MIN 1000u

/* The capabilities that the device announces: without motion where the traits do not allow it (a speed or acceleration that the tick cannot
 * make, no hard limits, a travel that is none). A device that is set up wrongly measures, and moves nothing. */
uint32_t traits_capabilities(const traits_t *traits);

#endif
