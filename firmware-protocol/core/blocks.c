#include "blocks.h"
#include "line.h"
#include "port.h"
#include "wire.h"

/* A port with little memory makes it smaller (1 to 40); blocks are closed by age at low rates anyway. */
#ifndef BLOCK_SAMPLES_MAX
#define BLOCK_SAMPLES_MAX 40u
#endif
#define AGE_MAX_MILLISECONDS 50u
#define SILENCE_MAX_MILLISECONDS 100u
/* Kept free for an answer and an event whatever the samples do: a line that blocks had filled would never tell that a stop was obeyed. */
#define KEPT_FREE 40u

static struct {
    uint8_t  payload[SAMPLES_HEAD + SAMPLE_BYTES * BLOCK_SAMPLES_MAX];
    uint8_t  count, age, silence, hurry, dropped;
    uint32_t number, first_number, first_stamp;
    int32_t  first_steps, last_steps;
} blocks;

void blocks_start(void)
{
    blocks.count = blocks.age = blocks.hurry = blocks.dropped = 0;
    blocks.silence = SILENCE_MAX_MILLISECONDS;
    blocks.number = 0;
}

void blocks_hurry(void)        { blocks.hurry = 1; }
void blocks_forget_drops(void) { blocks.dropped = 0; }
void blocks_dropped(void)      { blocks.dropped = 1; }

static uint8_t *put_state(uint8_t *p, const snapshot_t *now)
{
    p = put32(p, now->boot_number);
    p = put16(p, now->inputs);
    *p++ = now->motion;
    *p++ = (uint8_t)((now->homed ? STATE_HOMED : 0) | (now->powered ? STATE_MOTOR_POWERED : 0) | (blocks.dropped ? STATE_BLOCKS_DROPPED : 0));
    p = put16(p, now->faults);
    p = put16(p, now->limits_id);
    p = put16(p, now->last_command);
    return put16(p, now->pending_event);
}

/* Sends what is gathered, or the state alone. Returns 0 where there is no room now. */
static uint8_t close_block(const snapshot_t *now)
{
    uint8_t length = (uint8_t)(SAMPLES_HEAD + SAMPLE_BYTES * blocks.count);
    if (!line_has_room(length, KEPT_FREE)) return 0;
    if (!blocks.count) {
        blocks.first_number = blocks.number;
        blocks.first_stamp = port_microseconds();
        blocks.first_steps = now->position;
    }
    uint8_t *p = blocks.payload;
    *p++ = MSG_SAMPLES;
    p = put_state(p, now);
    p = put32(p, blocks.first_number);
    p = put32(p, blocks.first_stamp);
    p = put32(p, now->period_nanoseconds);
    p = put32(p, (uint32_t)blocks.first_steps);
    *p = blocks.count;
    line_send(blocks.payload, length);
    blocks.count = blocks.age = blocks.silence = blocks.hurry = 0;
    return 1;
}

static void drop_block(void)
{
    blocks.count = blocks.age = 0;
    blocks.dropped = 1;
}

void blocks_close(const snapshot_t *now)
{
    if (blocks.count && !close_block(now)) drop_block();
}

uint32_t blocks_sample(const snapshot_t *now, int32_t counts, uint32_t stamp, int32_t steps)
{
    uint32_t number = blocks.number++;
    if (!now->streaming) return number;
    if (blocks.count) {
        int32_t change = steps - blocks.last_steps;
        uint8_t full = blocks.count == BLOCK_SAMPLES_MAX || change > 32767 || change < -32768;
        if (full && !close_block(now)) drop_block();
    }
    if (!blocks.count) {
        blocks.first_number = number;
        blocks.first_stamp = stamp;
        blocks.first_steps = blocks.last_steps = steps;
    }
    uint8_t *p = blocks.payload + SAMPLES_HEAD + SAMPLE_BYTES * blocks.count++;
    p = put16(p, (uint16_t)counts);
    *p++ = (uint8_t)((uint32_t)counts >> 16);
    put16(p, (uint16_t)(steps - blocks.last_steps));
    blocks.last_steps = steps;
    if (blocks.count == BLOCK_SAMPLES_MAX) close_block(now);
    return number;
}

void blocks_millisecond(const snapshot_t *now)
{
    if (blocks.count && blocks.age < AGE_MAX_MILLISECONDS) blocks.age++;
    if (blocks.silence < SILENCE_MAX_MILLISECONDS) blocks.silence++;
    if (blocks.hurry || blocks.age == AGE_MAX_MILLISECONDS || blocks.silence == SILENCE_MAX_MILLISECONDS) close_block(now);
}
