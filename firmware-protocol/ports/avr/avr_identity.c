#include <avr/eeprom.h>
#include <avr/io.h>
#include "avr_identity.h"
#include "crc16.h"

#define MIX 2654435761UL          /* odd: every counter gives another number */
/* A cell of EEPROM bears 100,000 writes (data sheet, from memory): spread over so many it bears three million starts. */
#define CELLS 32u

typedef struct { uint32_t starts; uint16_t crc; } start_t;
/* The first two lie where images before kept them. */
typedef struct {
    uint64_t id;
    uint32_t starts_before;
    uint16_t crc;
    uint64_t id_again;
    uint16_t crc_again;
    start_t  starts[CELLS];
} kept_t;
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

static uint64_t read_id(const uint64_t *at) { uint64_t id; eeprom_read_block(&id, at, sizeof id); return id; }
static uint16_t crc_of_id(uint64_t id)      { return crc16((const uint8_t *)&id, sizeof id); }

/* The calibrations hang on it: two copies, and one that an image before wrote without a checksum is taken over. */
static uint64_t device_id(void)
{
    uint64_t first = read_id(&kept.id), second = read_id(&kept.id_again), id = 0;
    uint16_t crc = eeprom_read_word(&kept.crc), again = eeprom_read_word(&kept.crc_again);
    if (crc == crc_of_id(first)) id = first;
    else if (again == crc_of_id(second)) id = second;
    else if (crc == UINT16_MAX && again == UINT16_MAX) id = first;
    if (id == UINT64_MAX || !id) {             /* never started before, or both copies are spoilt */
        TCCR0B = 1u << CS00;
        id = (uint64_t)draw() << 32 | draw();
        TCCR0B = 0;
        ADCSRA = 0;
    }
    eeprom_update_block(&id, &kept.id, sizeof id);
    eeprom_update_word(&kept.crc, crc_of_id(id));
    eeprom_update_block(&id, &kept.id_again, sizeof id);
    eeprom_update_word(&kept.crc_again, crc_of_id(id));
    return id;
}

/* The greatest that is whole: one whose writing the power did not last for is not. */
static uint32_t last_start(void)
{
    uint32_t most = eeprom_read_dword(&kept.starts_before);
    if (most == UINT32_MAX) most = 0;
    for (uint8_t i = 0; i < CELLS; i++) {
        start_t s;
        eeprom_read_block(&s, &kept.starts[i], sizeof s);
        if (s.crc == crc16((const uint8_t *)&s.starts, sizeof s.starts) && s.starts > most) most = s.starts;
    }
    return most;
}

void identity_read(uint64_t *id, uint32_t *boot_number, uint8_t restarts)
{
    *id = device_id();
    uint32_t starts = last_start();
    if (!restarts) {
        start_t s = { .starts = ++starts };
        s.crc = crc16((const uint8_t *)&s.starts, sizeof s.starts);
        eeprom_update_block(&s, &kept.starts[starts % CELLS], sizeof s);
    }
    *boot_number = ((starts << 8) + restarts) * MIX ^ (uint32_t)*id;
    if (!*boot_number) *boot_number = MIX;
}
