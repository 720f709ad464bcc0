#include "blocks.h"
#include "commands.h"
#include "converter.h"
#include "device.h"
#include "events.h"
#include "motion.h"

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

static uint8_t *put_state(uint8_t *p)
{
    uint16_t inputs = device_inputs() & (uint16_t)device.stepper.checked & (uint16_t)~INPUT_DRIVER_FAULT;
    if (converter_alive()) inputs |= INPUT_CONVERTER_ALIVE;
    if (device.traits->feeder) inputs |= device.traits->feeder->inputs() & (INPUT_SPECIMEN_LOADED | INPUT_FEEDER_EMPTY);
    p = put32(p, device.traits->boot_number);
    p = put16(p, inputs);
    *p++ = motion_state();
    *p++ = (uint8_t)((device.homed ? STATE_HOMED : 0) | (device.stepper.powered ? STATE_MOTOR_POWERED : 0)
                     | (blocks.dropped ? STATE_BLOCKS_DROPPED : 0));
    p = put16(p, device.faults);
    p = put16(p, device.limits.id);
    p = put16(p, command_last());
    return put16(p, event_pending());
}

/* Sends what is gathered, or the state alone. Returns 0 where there is no room now. */
static uint8_t close_block(void)
{
    uint8_t length = (uint8_t)(SAMPLES_HEAD + SAMPLE_BYTES * blocks.count);
    if (!device_has_room(length, KEPT_FREE)) return 0;
    if (!blocks.count) {
        blocks.first_number = blocks.number;
        blocks.first_stamp = port_microseconds();
        blocks.first_steps = device_position();
    }
    uint8_t *p = blocks.payload;
    *p++ = MSG_SAMPLES;
    p = put_state(p);
    p = put32(p, blocks.first_number);
    p = put32(p, blocks.first_stamp);
    p = put32(p, converter_period_nanoseconds());
    p = put32(p, (uint32_t)blocks.first_steps);
    *p = blocks.count;
    device_send(blocks.payload, length);
    blocks.count = blocks.age = blocks.silence = blocks.hurry = 0;
    return 1;
}

static void drop_block(void)
{
    blocks.count = blocks.age = 0;
    blocks.dropped = 1;
}

void blocks_close(void)
{
    if (blocks.count && !close_block()) drop_block();
}

void blocks_sample(int32_t counts, uint32_t stamp, int32_t steps)
{
    uint32_t number = blocks.number++;
    if (!device.streaming) return;
    if (blocks.count) {
        int32_t change = steps - blocks.last_steps;
        uint8_t full = blocks.count == BLOCK_SAMPLES_MAX || change > 32767 || change < -32768;
        if (full && !close_block()) drop_block();
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
    if (blocks.count == BLOCK_SAMPLES_MAX) close_block();
}

void blocks_millisecond(void)
{
    if (blocks.count && blocks.age < AGE_MAX_MILLISECONDS) blocks.age++;
    if (blocks.silence < SILENCE_MAX_MILLISECONDS) blocks.silence++;
    if (blocks.hurry || blocks.age == AGE_MAX_MILLISECONDS || blocks.silence == SILENCE_MAX_MILLISECONDS) close_block();
}
