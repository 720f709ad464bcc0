#ifndef RIG_SETTINGS_H
#define RIG_SETTINGS_H
#include <stdint.h>

/* The figures of a rig, in a page of flash of their own: written by settings.py and the chip's flashing tool, so that nobody compiles for a new screw, and
 * by nothing else: no host can widen them. A page that is empty, of another version or damaged leaves a device that measures and moves nothing. */
#define SETTINGS_MAGIC 0x53474952u              /* "RIGS" */
#define SETTINGS_VERSION 1u
#define DRIVER_REGISTERS_MAX 8u

typedef struct {
    uint32_t magic;
    uint16_t version, length;                  /* of the whole, checksum and all */
    uint32_t converter_rate_millihertz, converter_delay_microseconds;
    uint32_t steps_per_metre, speed_max, acceleration_max;
    int32_t  travel_min, travel_max, home_clearance;
    int32_t  force_min, force_max;
    int32_t  converter_sign;                   /* +1 or -1: counts rise with tension */
    uint8_t  screw_needs_power, closed_loop, driver_address, driver_registers;
    struct { uint8_t number, spare[3]; uint32_t value; } driver[DRIVER_REGISTERS_MAX];
    uint8_t  driver_status, spare[3];          /* register that tells of trouble; 0xFF: none is asked */
    uint32_t driver_trouble;                   /* bits of it that are trouble: a stall, heat, a short */
    char     name[33], spare_too;
    uint16_t crc;                              /* CRC-16/IBM-3740 of all before it */
} settings_t;

_Static_assert(sizeof(settings_t) == 164, "settings.py writes this layout");

/* NULL where there are none. */
const settings_t *settings_read(void);
#endif
