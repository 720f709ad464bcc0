#include <stddef.h>
#include "crc16.h"
#include "settings.h"

extern const settings_t settings_page;

const settings_t *settings_read(void)
{
    const settings_t *s = &settings_page;
    if (s->magic != SETTINGS_MAGIC || s->version != SETTINGS_VERSION || s->length != sizeof *s) return NULL;
    uint16_t crc = CRC16_START;
    for (uint32_t i = 0; i < offsetof(settings_t, crc); i++) crc = crc16_add(crc, ((const uint8_t *)s)[i]);
    return crc == s->crc ? s : NULL;
}
