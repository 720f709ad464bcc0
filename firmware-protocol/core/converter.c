#include "converter.h"
#include "wire.h"

#define SETTLING_MILLISECONDS 1000u
#define PERIOD_SMOOTHING 16
/* Silence is death after four periods and 20 ms, in motion after two and a half and 5 ms. */
#define STILL_PERIODS_HALVES 8u
#define STILL_MORE_MILLISECONDS 20u
#define MOTION_PERIODS_HALVES 5u
#define MOTION_MORE_MILLISECONDS 5u
/* Beyond this two stamps are no period. */
#define APART_MAX_MICROSECONDS 2000000u
/* Limits look at no more than one conversion in so long; under a millisecond, for one that comes every millisecond. */
#define JUDGED_APART_MICROSECONDS 750u
/* What cannot be (at an end of the range, too soon, too late, misread) weighs two, what can takes one off again: three in a row are a fault,
 * and so is a converter that is wrong every second or third time. It is sound again when all is taken off. */
#define DOUBT_EACH 2u
#define DOUBT_MAX  6u

static struct {
    const traits_t *traits;
    int32_t  counts, before;
    uint32_t stamp, judged_at, period_microseconds, period_nanoseconds;
    uint32_t silent_milliseconds, silent_still, silent_motion;
    uint16_t settling;
    uint8_t  alive, judged, doubt, unsound, equal;
} converter;

static uint32_t halves(uint32_t count, uint32_t more) { return (count * converter.period_microseconds / 2u + 999u) / 1000u + more; }

void converter_start(const traits_t *traits)
{
    uint32_t rate = traits->converter_rate_millihertz;
    converter.traits = traits;
    converter.period_microseconds = rate > 500u ? 1000000000u / rate : APART_MAX_MICROSECONDS;
    converter.silent_still = halves(STILL_PERIODS_HALVES, STILL_MORE_MILLISECONDS);
    converter.silent_motion = halves(MOTION_PERIODS_HALVES, MOTION_MORE_MILLISECONDS);
    converter.settling = SETTLING_MILLISECONDS;
    converter.alive = converter.judged = converter.doubt = converter.unsound = converter.equal = 0;
    converter.silent_milliseconds = 0;
    converter.period_nanoseconds = 0;
    converter.counts = converter.before = 0;
}

uint8_t  converter_alive(void)              { return converter.alive; }
uint8_t  converter_settling(void)           { return converter.settling != 0; }
uint32_t converter_period_nanoseconds(void) { return converter.period_nanoseconds; }
int32_t  converter_counts(void)             { return converter.counts; }
int32_t  converter_counts_before(void)      { return converter.before; }

static uint8_t frozen(void)
{
    uint8_t most = converter.traits->converter_frozen_readings;
    return most && converter.equal >= most;
}

uint8_t converter_sound(void) { return converter.alive && !converter.unsound && !frozen(); }

static void weigh(uint8_t doubtful)
{
    if (converter.settling) return;
    if (doubtful) converter.doubt = converter.doubt + DOUBT_EACH < DOUBT_MAX ? converter.doubt + DOUBT_EACH : DOUBT_MAX;
    else if (converter.doubt) converter.doubt--;
    if (converter.doubt == DOUBT_MAX) converter.unsound = 1;
    if (!converter.doubt) converter.unsound = 0;
}

void converter_failed(void) { weigh(1); }

static void measure_period(uint32_t apart)
{
    int32_t fresh = (int32_t)(apart * 1000u), old = (int32_t)converter.period_nanoseconds;
    if (!old) converter.period_nanoseconds = apart * 1000u;
    else if (apart < 2u * ((uint32_t)old / 1000u)) converter.period_nanoseconds = (uint32_t)(old + (fresh - old) / PERIOD_SMOOTHING);
}

uint8_t converter_conversion(int32_t counts, uint32_t stamp)
{
    int32_t top = (int32_t)((1UL << (converter.traits->converter_bits - 1u)) - 1u);
    uint8_t doubtful = counts >= top || counts <= -top - 1;
    uint32_t apart = stamp - converter.stamp;
    if (converter.alive && apart < APART_MAX_MICROSECONDS) {
        if (apart < converter.period_microseconds / 2u) { weigh(1); return 0; }
        if (apart > converter.period_microseconds + converter.period_microseconds / 2u) doubtful = 1;
        measure_period(apart);
    }
    converter.stamp = stamp;
    converter.silent_milliseconds = 0;
    uint8_t judged = !converter.alive || !converter.judged || stamp - converter.judged_at >= JUDGED_APART_MICROSECONDS;
    converter.alive = 1;
    if (!judged) return CONVERSION_COUNTS;
    if (!converter.judged || counts != converter.counts) converter.equal = 0;
    else if (converter.equal < UINT8_MAX) converter.equal++;
    converter.before = converter.counts;
    converter.counts = counts;
    converter.judged = 1;
    converter.judged_at = stamp;
    weigh(doubtful);
    return CONVERSION_COUNTS | CONVERSION_JUDGED;
}

void converter_millisecond(uint8_t in_motion)
{
    if (in_motion) converter.settling = 0;     /* what moves needs a limit, first second or not */
    if (converter.settling) converter.settling--;
    if (converter.silent_milliseconds < (in_motion ? converter.silent_motion : converter.silent_still)) { converter.silent_milliseconds++; return; }
    converter.alive = 0;
    if (converter.settling) return;
    converter.unsound = 1;                     /* what comes next has to show that it goes on */
    converter.doubt = DOUBT_MAX;
}
