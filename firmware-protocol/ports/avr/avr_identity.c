#include <avr/eeprom.h>
#include <avr/io.h>
#include "avr_identity.h"

#define MIX 2654435761UL          /* odd: every counter gives another number */

typedef struct { uint64_t id; uint32_t starts; } kept_t;
static kept_t EEMEM kept;

/* One conversion of the chip's own temperature sensor: its lowest bits are noise. */
static uint16_t noise(void)
{
    ADMUX  = 1u << REFS1 | 1u << REFS0 | 1u << MUX3;
    ADCSRA = 1u << ADEN | 1u << ADSC | 1u << ADPS2 | 1u << ADPS1;
    while (ADCSRA & (1u << ADSC)) { }          /* 0.1 ms, by the hardware's own count */
    return ADC;
}

static uint32_t draw(void)
{
    uint32_t drawn = MIX;
    for (uint8_t i = 0; i < 64; i++) drawn = (drawn ^ noise() ^ TCNT0) * MIX + (drawn >> 15);
    return drawn;
}

void identity_read(uint64_t *device_id, uint32_t *boot_number)
{
    uint64_t id;
    eeprom_read_block(&id, &kept.id, sizeof id);
    if (id == UINT64_MAX || !id) {             /* never started before, or EEPROM written with the image */
        TCCR0B = 1u << CS00;
        id = (uint64_t)draw() << 32 | draw();
        TCCR0B = 0;
        ADCSRA = 0;
        eeprom_update_block(&id, &kept.id, sizeof id);
    }
    uint32_t starts = eeprom_read_dword(&kept.starts) + 1u;
    eeprom_update_dword(&kept.starts, starts);
    *device_id = id;
    *boot_number = starts * MIX ^ (uint32_t)id;
    if (!*boot_number) *boot_number = MIX;
}
