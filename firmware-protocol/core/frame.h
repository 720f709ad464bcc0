#ifndef RIG_FRAME_H
#define RIG_FRAME_H
#include <stdint.h>

/* Frames (PROTOCOL.md, 2): 0x00, stuffed payload and checksum, 0x00. */
#define FRAME_PAYLOAD_MAX 238u
#define FRAME_CONTENT_MAX (FRAME_PAYLOAD_MAX + 2u)
#define FRAME_STUFFED_MAX (FRAME_CONTENT_MAX + 1u)
/* Bytes on the line beyond the payload: two zeros, one code byte, two of checksum. */
#define FRAME_OVERHEAD    5u

/* What is kept of a payload: more than the longest command. What lies behind is checked, and skipped. */
#define FRAME_KEPT_MAX    40u

/* Unstuffs and checks while the bytes arrive, so that frames of full length need no buffer of full length. */
typedef struct {
    uint8_t  payload[FRAME_KEPT_MAX];
    uint8_t  length;          /* of the whole payload, which can be more than what is kept */
    uint16_t payload_crc;
    uint16_t bad;             /* stretches that were no frame; wraps */
    /* within a frame */
    uint8_t  stuffed, content, code, left, held[2], wrong;
    uint16_t crc;
} receiver_t;

void    receiver_start(receiver_t *r);
/* Takes a byte from the line. Returns 1 when it ends a whole frame: payload, length and payload_crc hold until the next byte. */
uint8_t receiver_byte(receiver_t *r, uint8_t byte);

typedef void frame_sink(uint8_t byte);
/* Gives the frame's bytes to `sink`; there are length + FRAME_OVERHEAD of them. */
void    frame_send(const uint8_t *payload, uint8_t length, frame_sink *sink);

#endif
