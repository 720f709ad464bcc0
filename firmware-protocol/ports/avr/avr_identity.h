#ifndef RIG_AVR_IDENTITY_H
#define RIG_AVR_IDENTITY_H
#include <stdint.h>

/* Which board this is, and which start of it: kept in EEPROM under checksums. Slow at the first start; call before the watchdog is on.
 * `restarts`: by the watchdog since the last other start. Such a one writes nothing: a program that hangs over and over wears nothing out. */
void identity_read(uint64_t *device_id, uint32_t *boot_number, uint8_t restarts);
#endif
