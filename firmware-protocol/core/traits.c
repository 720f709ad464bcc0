#include "port.h"
#include "stepper.h"
#include "wire.h"

/* A metre of a screw has at most so many steps, a travel too: sums of a few of them fit 32 bits. */
#define STEPS_MAX 100000000L

uint32_t traits_capabilities(const traits_t *t)
{
    uint8_t fit = t->speed_max > 0 && t->speed_max < TICK_HERTZ / 2u
        && t->acceleration_max > 0 && t->acceleration_max <= ACCELERATION_MAX
        && t->force_min < t->force_max
        && t->travel_min < t->travel_max && t->travel_min >= -STEPS_MAX && t->travel_max <= STEPS_MAX
        && t->steps_per_metre > 0 && t->steps_per_metre <= (uint32_t)STEPS_MAX
        && t->home_clearance >= 0 && t->home_clearance <= STEPS_MAX
        && t->converter_bits >= 8u && t->converter_bits <= 24u
        && t->converter_rate_millihertz >= CONVERTER_MILLIHERTZ_MIN;
    uint32_t can = t->capabilities & ~(uint32_t)CAN_FEEDER;
    if (t->feeder) can |= CAN_FEEDER;
    can = t->channels && t->channel_count && t->channel_count <= CHANNELS_MAX ? can | CAN_CHANNELS : can & ~(uint32_t)CAN_CHANNELS;
    return fit && can & CAN_MOTION ? can | CAN_RELEASE : can & ~(uint32_t)(CAN_MOTION | CAN_HOMING | CAN_FEEDER | CAN_RELEASE);
}
