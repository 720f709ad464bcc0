#ifndef RIG_AVR_IDENTITY_H
#define RIG_AVR_IDENTITY_H
#include <stdint.h>

/* Which board this is, and which start of it: both kept in EEPROM. Slow at the first start; call before the watchdog is on. */
void identity_read(uint64_t *device_id, uint32_t *boot_number);
#endif
