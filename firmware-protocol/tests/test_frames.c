#include "bench.h"
#include "crc16.h"
#include "vectors.h"

static uint8_t sent[2 * FRAME_STUFFED_MAX];
static unsigned sent_length;
static void sink(uint8_t byte) { sent[sent_length++] = byte; }

static void checksums_are_the_vectors(void)
{
    for (unsigned i = 0; i < sizeof vector_crcs / sizeof *vector_crcs; i++)
        CHECK_EQUAL(vector_crcs[i].number, crc16((const uint8_t *)vector_crcs[i].a, (uint8_t)vector_crcs[i].a_length));
}

static void payloads_become_the_vectors_frames(void)
{
    for (unsigned i = 0; i < sizeof vector_frames / sizeof *vector_frames; i++) {
        const vector_t *v = &vector_frames[i];
        sent_length = 0;
        frame_send((const uint8_t *)v->a, (uint8_t)v->a_length, sink);
        CHECK_EQUAL(v->b_length, sent_length);
        CHECK(!memcmp(v->b, sent, sent_length));
    }
}

static void the_vectors_frames_are_read(void)
{
    for (unsigned i = 0; i < sizeof vector_frames / sizeof *vector_frames; i++) {
        const vector_t *v = &vector_frames[i];
        receiver_t r;
        receiver_start(&r);
        unsigned good = 0;
        for (unsigned k = 0; k < v->b_length; k++) good += receiver_byte(&r, (uint8_t)v->b[k]);
        CHECK_EQUAL(1, good);
        CHECK_EQUAL(v->a_length, r.length);
        CHECK(!memcmp(v->a, r.payload, v->a_length < FRAME_KEPT_MAX ? v->a_length : FRAME_KEPT_MAX));
        CHECK_EQUAL(crc16((const uint8_t *)v->a, (uint8_t)v->a_length), r.payload_crc);
    }
}

static void hostile_streams_give_the_vectors_frames(void)
{
    for (unsigned i = 0; i < sizeof vector_streams / sizeof *vector_streams; i++) {
        const vector_t *v = &vector_streams[i];
        receiver_t r;
        receiver_start(&r);
        const char *expected = v->b;
        for (unsigned k = 0; k < v->a_length; k++) {
            if (!receiver_byte(&r, (uint8_t)v->a[k])) continue;
            CHECK(expected < v->b + v->b_length);
            CHECK_EQUAL((uint8_t)*expected, r.length);
            CHECK(!memcmp(expected + 1, r.payload, r.length));
            expected += 1 + r.length;
        }
        CHECK(expected == v->b + v->b_length);
        CHECK_EQUAL(v->number, r.bad);
    }
}

void test_frames(void)
{
    RUN(checksums_are_the_vectors);
    RUN(payloads_become_the_vectors_frames);
    RUN(the_vectors_frames_are_read);
    RUN(hostile_streams_give_the_vectors_frames);
}
