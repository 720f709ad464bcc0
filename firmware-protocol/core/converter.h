#ifndef RIG_CONVERTER_H
#define RIG_CONVERTER_H
#include <stdint.h>
#include "port.h"

/* Whether conversions come, how often, whether they can be true, and what the last ones were (PROTOCOL.md, 10, Converter). Knows the
 * traits and what it is given, and returns what it makes of it. */
enum { CONVERSION_COUNTS = 1, CONVERSION_JUDGED = 2 };

void     converter_start(const traits_t *traits);
/* Returns CONVERSION_COUNTS where it is one at all (too soon after the last it is none), with CONVERSION_JUDGED where the limits are to
 * look at it: not more often than every millisecond, so that two in a row are never one spark on a fast converter. */
uint8_t  converter_conversion(int32_t counts, uint32_t stamp_microseconds);
/* The port read one that cannot be: a data line that does not go up again, a checksum, a status bit. */
void     converter_failed(void);
void     converter_millisecond(uint8_t in_motion);
uint8_t  converter_alive(void);                /* fresh conversions come */
uint8_t  converter_sound(void);                /* and they can be true */
uint8_t  converter_settling(void);             /* the first second, in which nothing is held against it */
int32_t  converter_counts(void);               /* the last judged conversion's, and the one's before (0 at the first) */
int32_t  converter_counts_before(void);
uint32_t converter_period_nanoseconds(void);
#endif
