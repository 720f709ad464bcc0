#ifndef RIG_DEVICE_H
#define RIG_DEVICE_H
#include "frame.h"
#include "port.h"
#include "stepper.h"

/* The whole device (PROTOCOL.md). There is one on a microcontroller, so it is one object, not a pointer handed round. */

typedef struct {
    uint16_t id;                               /* 0: none in force */
    int32_t  force_min, force_max;             /* counts */
    int32_t  travel_min, travel_max;           /* steps */
    uint32_t speed_max, acceleration_max;      /* steps/s, steps/s² */
    uint32_t time_max;                         /* ms of one motion */
} limits_t;

typedef struct {
    const traits_t *traits;
    uint32_t capabilities;
    volatile stepper_t stepper;
    receiver_t receiver;
    limits_t limits;
    uint16_t faults;
    uint8_t  homed, streaming;
    uint8_t  inputs_seen, motion_seen;         /* what the last block told */
    uint16_t faults_seen;
} device_t;

extern device_t device;

/* After the port's outputs are safe and its transmitter works. `inputs` as stepper_tick takes them; `by_watchdog`: why it started. */
void device_start(const traits_t *traits, uint8_t inputs, uint8_t by_watchdog);
/* A byte from the line. */
void device_byte(uint8_t byte);
/* A conversion: counts rise with tension; stamp and position are those of its end. */
void device_conversion(int32_t counts, uint32_t stamp_microseconds, int32_t steps);
/* A conversion was there, and what was read cannot be one (see converter.h). */
void device_conversion_failed(void);
/* At 1 kHz. A millisecond that comes late is called for all the same. */
void device_millisecond(void);

/* For the other files: the position and the filtered inputs, as one. */
int32_t  device_position(void);
uint8_t  device_inputs(void);
/* Whether the transmit buffer takes a frame of so many payload bytes; `kept` bytes stay free. */
uint8_t  device_has_room(uint8_t payload_length, uint8_t kept);
void     device_send(const uint8_t *payload, uint8_t length);
#endif
