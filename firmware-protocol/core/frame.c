#include "frame.h"
#include "crc16.h"

#define COBS_FULL 0xFFu

static void begin(receiver_t *r)
{
    r->stuffed = r->content = r->left = r->wrong = 0;
    r->code = COBS_FULL;              /* no zero belongs before the first piece */
    r->crc = CRC16_START;
}

void receiver_start(receiver_t *r)
{
    begin(r);
    r->bad = 0;
    r->length = 0;
}

/* The last two bytes are held back: at the end they turn out to be the checksum. */
static void take(receiver_t *r, uint8_t byte)
{
    if (r->content == FRAME_CONTENT_MAX) { r->wrong = 1; return; }
    if (r->content >= 2u) {
        uint8_t at = (uint8_t)(r->content - 2u);
        if (at < FRAME_KEPT_MAX) r->payload[at] = r->held[0];
        r->crc = crc16_add(r->crc, r->held[0]);
    }
    r->held[0] = r->held[1];
    r->held[1] = byte;
    r->content++;
}

uint8_t receiver_byte(receiver_t *r, uint8_t byte)
{
    if (byte) {
        if (r->wrong) return 0;
        if (r->stuffed == FRAME_STUFFED_MAX) { r->wrong = 1; return 0; }
        r->stuffed++;
        if (r->left) {
            r->left--;
            take(r, byte);
        } else {
            if (r->code != COBS_FULL) take(r, 0);
            r->code = byte;
            r->left = (uint8_t)(byte - 1u);
        }
        return 0;
    }
    uint8_t empty = !r->stuffed && !r->wrong;
    uint8_t good = !r->wrong && !r->left && r->content >= 3u && r->crc == (uint16_t)(r->held[0] | (uint16_t)r->held[1] << 8);
    if (good) {
        r->length = (uint8_t)(r->content - 2u);
        r->payload_crc = r->crc;
    } else if (!empty) {
        r->bad++;
    }
    begin(r);
    return good;
}

void frame_send(const uint8_t *payload, uint8_t length, frame_sink *sink)
{
    uint16_t crc = crc16(payload, length);
    uint8_t tail[2] = { (uint8_t)crc, (uint8_t)(crc >> 8) };
    uint8_t content = (uint8_t)(length + 2u), at = 0;
    sink(0);
    for (;;) {                        /* a piece up to the next zero; none can reach 254 bytes */
        uint8_t end = at;
        while (end < content && (end < length ? payload[end] : tail[end - length])) end++;
        sink((uint8_t)(end - at + 1u));
        while (at < end) { sink(at < length ? payload[at] : tail[at - length]); at++; }
        if (at == content) break;
        at++;                         /* the zero itself */
    }
    sink(0);
}
