#include "force.h"
#include "converter.h"

/* On the way back the force may exceed what it was by this share of the span of the limits. */
#define WAY_BACK_SHARE 32u
/* Beyond the limits weighs two, within takes one off: two in a row are an overload, and so is every second one. */
#define BEYOND_EACH 2u
#define BEYOND_MAX  4u

static struct { const limits_t *limits; int8_t beyond, reached_direction; uint8_t way_back, weight; int32_t from; } force;

/* Beyond the limits, or within them again, is what two conversions in a row say: one alone can be a bit-banged converter's wild
 * reading. It costs one interval, and so the rate of the force times one interval (PROTOCOL.md, 8). */
static int8_t side_of(int32_t counts)
{
    return counts > force.limits->force_max ? 1 : counts < force.limits->force_min ? -1 : 0;
}

void force_start(const limits_t *limits)
{
    force.limits = limits;
    force.beyond = force.reached_direction = 0;
    force.way_back = force.weight = 0;
}

void force_limits_set(void) { force.weight = 0; }       /* what was beyond others says nothing of these */

int8_t force_beyond(void)
{
    if (!force.limits->id) return 0;
    int8_t last = side_of(converter_counts()), before = side_of(converter_counts_before());
    if (!last == !before) force.beyond = last;
    return force.beyond;
}

uint8_t force_allows(int8_t direction)
{
    int8_t beyond = force_beyond();
    if (!beyond) return 1;
    /* Reached at standstill nobody knows by which way: too much tension is let go by closing. */
    int8_t reached = force.reached_direction ? force.reached_direction : beyond;
    return direction == -reached;
}

void force_motion_begins(uint8_t replaces)
{
    int32_t last = converter_counts(), before = converter_counts_before();
    int8_t beyond = force_beyond();
    if (force.way_back && beyond && replaces) return;          /* a move that replaces one begins no new way back */
    force.way_back = beyond != 0;
    uint8_t last_is_nearer = (beyond > 0) == (last < before);
    force.from = side_of(before) != beyond || (last_is_nearer && side_of(last) == beyond) ? last : before;    /* a wild one frees nothing */
}

/* Further out than the way back may go; counts have 24 bits. */
static uint8_t too_far(int32_t counts)
{
    uint32_t span = (uint32_t)force.limits->force_max - (uint32_t)force.limits->force_min;
    int32_t further = force.beyond > 0 ? counts - force.from : force.from - counts;
    return side_of(counts) && further > (int32_t)(span / WAY_BACK_SHARE);
}

static void weigh(void)
{
    if (force.limits->id && side_of(converter_counts()))
        force.weight = force.weight + BEYOND_EACH < BEYOND_MAX ? force.weight + BEYOND_EACH : BEYOND_MAX;
    else if (force.weight) force.weight--;
}

uint8_t force_conversion(int8_t direction, uint8_t moving)
{
    weigh();
    if (!force_beyond()) {
        force.reached_direction = 0;
        force.way_back = 0;
        return moving && force.weight == BEYOND_MAX;
    }
    if (!moving) return 0;
    if (force.way_back) return too_far(converter_counts()) && too_far(converter_counts_before());
    force.reached_direction = direction;
    return 1;
}
