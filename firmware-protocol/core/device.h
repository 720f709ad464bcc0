#ifndef RIG_DEVICE_H
#define RIG_DEVICE_H
#include "frame.h"
#include "limits.h"
#include "port.h"
#include "stepper.h"

/* The whole device (PROTOCOL.md). There is one on a microcontroller, so it is one object, not a pointer handed round. It alone knows all the
 * parts: it reads, decides by the supervisor's rules, acts and reports. README.md has who may know whom. */

typedef struct {
    const traits_t *traits;
    uint32_t capabilities;
    receiver_t receiver;
    limits_t limits;
    uint16_t faults;
    uint8_t  streaming, held;
    uint8_t  inputs_seen, motion_seen;         /* what the last block told */
    uint16_t faults_seen;
} device_t;

extern device_t device;

/* Why it started: told in Started's detail. */
enum {
    START_BY_WATCHDOG = 1 << 0, START_POWER_ON = 1 << 1, START_BROWN_OUT = 1 << 2, START_RESET_PIN = 1 << 3,
    START_UNTOLD = 1 << 4,                     /* the power was on, and what reset it is not known */
    START_HELD = 1 << 7                        /* by its watchdog for the third time in a row: it stands until it is switched off */
};

/* After the port's outputs are safe and its transmitter works. `inputs` as stepper_tick takes them; `cause` of START_... */
void device_start(const traits_t *traits, uint8_t inputs, uint8_t cause);
/* A byte from the line. */
void device_byte(uint8_t byte);
/* A conversion: counts rise with tension; stamp and position are those of its end. */
void device_conversion(int32_t counts, uint32_t stamp_microseconds, int32_t steps);
/* A conversion was there, and what was read cannot be one (see converter.h). */
void device_conversion_failed(void);
/* At 1 kHz. A millisecond that comes late is called for all the same. */
void device_millisecond(void);
#endif
