#include "channels.h"
#include "line.h"
#include "wire.h"

#define DESCRIPTION_HEAD 37u                    /* with the lengths of both texts */
#define VALUE_BLOCK      14u
#define KEPT_FREE        40u                    /* as blocks do: for an answer and an event */

static struct {
    const traits_t *traits;
    uint8_t on;                                 /* a bit a channel */
} channels;

void channels_start(const traits_t *traits)
{
    channels.traits = traits;
    channels.on = 0;
}

static uint8_t length_of(const char *text, uint8_t most)
{
    uint8_t length = 0;
    while (length < most && text[length]) length++;
    return length;
}

static uint8_t *put_text(uint8_t *p, const char *text, uint8_t length)
{
    *p++ = length;
    for (uint8_t i = 0; i < length; i++) *p++ = (uint8_t)text[i];
    return p;
}

static void describe(uint8_t channel)
{
    const channel_t *c = &channels.traits->channels[channel];
    uint8_t unit = length_of(c->unit, UNIT_MAX), name = length_of(c->name, NAME_MAX), length = (uint8_t)(DESCRIPTION_HEAD + unit + name);
    if (!line_has_room(length, KEPT_FREE)) return;            /* the host sees the answer without it and asks anew */
    uint8_t payload[DESCRIPTION_HEAD + UNIT_MAX + NAME_MAX], *p = payload;
    *p++ = MSG_CHANNEL_DESCRIPTION;
    p = put32(p, channels.traits->boot_number);
    *p++ = channel;
    *p++ = c->kind;
    p = put16(p, c->divider);
    p = put32(p, c->delay_microseconds);
    p = put32(put32(p, (uint32_t)c->zero), (uint32_t)c->numerator);
    p = put32(p, c->denominator);
    p = put32(put32(p, (uint32_t)c->raw_min), (uint32_t)c->raw_max);
    p = put16(p, c->resolution);
    put_text(put_text(p, c->unit, unit), c->name, name);
    line_send(payload, length);
}

uint8_t channels_take(const uint8_t *p)
{
    if (p[3] >= channels.traits->channel_count) return RESULT_BAD_VALUE;
    uint8_t bit = (uint8_t)(1u << p[3]);
    describe(p[3]);
    channels.on = p[4] ? channels.on | bit : channels.on & (uint8_t)~bit;
    return RESULT_DONE;
}

uint8_t channels_conversion(uint32_t number)
{
    uint8_t told = 1;
    for (uint8_t i = 0; i < channels.traits->channel_count; i++) {
        const channel_t *c = &channels.traits->channels[i];
        if (!(channels.on & 1u << i) || number % c->divider) continue;
        if (!line_has_room(VALUE_BLOCK, KEPT_FREE)) { told = 0; continue; }
        uint8_t payload[VALUE_BLOCK], *p = payload;
        uint32_t raw = (uint32_t)c->value();
        *p++ = MSG_CHANNEL_SAMPLES;
        p = put32(p, channels.traits->boot_number);
        *p++ = i;
        p = put32(p, number);
        *p++ = 1;
        p = put16(p, (uint16_t)raw);
        *p = (uint8_t)(raw >> 16);
        line_send(payload, VALUE_BLOCK);
    }
    return told;
}
