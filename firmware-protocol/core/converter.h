#ifndef RIG_CONVERTER_H
#define RIG_CONVERTER_H
#include <stdint.h>

/* Whether conversions come, how often, and what the last one was. */
void     converter_start(void);
void     converter_conversion(int32_t counts, uint32_t stamp_microseconds);
void     converter_millisecond(void);
uint8_t  converter_alive(void);                /* fresh conversions come */
uint8_t  converter_sound(void);                /* and not from an end of the range */
int32_t  converter_counts(void);               /* the last conversion's, and the one's before (0 at the first) */
int32_t  converter_counts_before(void);
uint32_t converter_period_nanoseconds(void);
#endif
