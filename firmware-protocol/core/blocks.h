#ifndef RIG_BLOCKS_H
#define RIG_BLOCKS_H
#include <stdint.h>

/* Samples and the state (PROTOCOL.md, 11 and 13). */
void blocks_start(void);
void blocks_sample(int32_t counts, uint32_t stamp_microseconds, int32_t steps);
void blocks_millisecond(void);
/* The state has changed: tell it without waiting for the block to fill. */
void blocks_hurry(void);
void blocks_forget_drops(void);
/* The position is about to be set anew: what was gathered counts from the old home. */
void blocks_close(void);
#endif
