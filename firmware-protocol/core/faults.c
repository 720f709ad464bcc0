#include "faults.h"
#include "converter.h"
#include "device.h"
#include "events.h"
#include "motion.h"

/* What cuts the motor's supply by itself can cost steps that the stepper counts as made. */
#define FAULTS_THAT_LOSE_STEPS (FAULT_EMERGENCY_STOP | FAULT_DRIVER)
#define FAULTS_THAT_CUT_POWER (FAULT_KEEP_ALIVE | FAULT_GUARD | FAULT_EMERGENCY_STOP | FAULT_DRIVER | FAULT_WATCHDOG)
/* On the way back the force may exceed what it was by this share of the span of the limits. */
#define WAY_BACK_SHARE 32u

/* Beyond the limits weighs two, within takes one off: two in a row are an overload, and so is every second one. */
#define BEYOND_EACH 2u
#define BEYOND_MAX  4u

static struct { int8_t beyond, reached_direction; uint8_t way_back, weight; int32_t from; } force;

void fault_latch(uint16_t bits)
{
    uint16_t raised = bits & (uint16_t)~device.faults;
    device.faults |= bits;
    if (bits & FAULTS_THAT_CUT_POWER) {
        uint8_t before = port_lock();
        device.stepper.powered = 0;
        port_motor_power(0);
        port_unlock(before);
    }
    for (uint16_t bit = 1; bit; bit = (uint16_t)(bit << 1))
        if (raised & bit) event_raise(EVENT_FAULT_RAISED, bit);
    if ((bits & FAULTS_THAT_LOSE_STEPS) && motion_state() != MOTION_STILL) device.homed = 0;
    motion_stop(1);
}

void faults_clear(uint16_t bits)
{
    uint8_t in = device_inputs(), before = port_lock();
    uint16_t alive = device.stepper.keep_alive_left;
    device.stepper.trips = 0;                  /* what still holds is tripped again by the next tick */
    port_unlock(before);
    uint16_t stays = 0;
    if (!alive) stays |= FAULT_KEEP_ALIVE;
    if (device.stepper.checked & ~in & INPUT_GUARD_CLOSED) stays |= FAULT_GUARD;
    if (device.stepper.checked & ~in & INPUT_EMERGENCY_STOP_RELEASED) stays |= FAULT_EMERGENCY_STOP;
    if (in & INPUT_DRIVER_FAULT) stays |= FAULT_DRIVER;
    if (!converter_sound()) stays |= FAULT_CONVERTER;
    device.faults &= (uint16_t)~(bits & (uint16_t)~stays);
}

/* Beyond the limits, or within them again, is what two conversions in a row say: one alone can be a bit-banged converter's wild
 * reading. It costs one interval, and so the rate of the force times one interval (PROTOCOL.md, 8). */
static int8_t side_of(int32_t counts)
{
    return counts > device.limits.force_max ? 1 : counts < device.limits.force_min ? -1 : 0;
}

void force_start(void) { force.beyond = force.reached_direction = 0; force.way_back = force.weight = 0; }

int8_t force_beyond(void)
{
    if (!device.limits.id) return 0;
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

void force_motion_begins(void)
{
    int32_t last = converter_counts(), before = converter_counts_before();
    int8_t beyond = force_beyond();
    if (force.way_back && beyond && motion_state() != MOTION_STILL) return;    /* a move that replaces one begins no new way back */
    force.way_back = beyond != 0;
    uint8_t last_is_nearer = (beyond > 0) == (last < before);
    force.from = side_of(before) != beyond || (last_is_nearer && side_of(last) == beyond) ? last : before;    /* a wild one frees nothing */
}

/* Further out than the way back may go; counts have 24 bits. */
static uint8_t too_far(int32_t counts)
{
    uint32_t span = (uint32_t)device.limits.force_max - (uint32_t)device.limits.force_min;
    int32_t further = force.beyond > 0 ? counts - force.from : force.from - counts;
    return side_of(counts) && further > (int32_t)(span / WAY_BACK_SHARE);
}

void force_conversion(void)
{
    if (device.limits.id && side_of(converter_counts())) force.weight = force.weight + BEYOND_EACH < BEYOND_MAX ? force.weight + BEYOND_EACH : BEYOND_MAX;
    else if (force.weight) force.weight--;
    if (!force_beyond()) {
        force.reached_direction = 0;
        force.way_back = 0;
        if (force.weight == BEYOND_MAX && motion_state() != MOTION_STILL) fault_latch(FAULT_FORCE);
        return;
    }
    if (motion_state() == MOTION_STILL) return;
    if (!force.way_back) force.reached_direction = motion_direction();
    else if (!too_far(converter_counts()) || !too_far(converter_counts_before())) return;
    fault_latch(FAULT_FORCE);
}
