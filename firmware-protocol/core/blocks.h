#ifndef RIG_BLOCKS_H
#define RIG_BLOCKS_H
#include <stdint.h>

/* The device as a block tells it: everything that a host can know of it, taken at one moment. */
typedef struct {
    uint32_t boot_number, period_nanoseconds;
    uint16_t inputs;                           /* those that the device has */
    uint8_t  motion, homed, powered, streaming;
    uint16_t faults, limits_id, last_command, pending_event;
    int32_t  position;
} snapshot_t;

/* Samples and the state (PROTOCOL.md, 11 and 13). What closes a block tells the state that it is shown. */
void blocks_start(void);
/* Gives the conversion its number. */
uint32_t blocks_sample(const snapshot_t *now, int32_t counts, uint32_t stamp_microseconds, int32_t steps);
void blocks_millisecond(const snapshot_t *now);
/* The state has changed: tell it without waiting for the block to fill. */
void blocks_hurry(void);
void blocks_forget_drops(void);
/* Something else found no room: the state tells that as it does of a block. */
void blocks_dropped(void);
/* The position is about to be set anew: what was gathered counts from the old home. */
void blocks_close(const snapshot_t *now);
#endif
