#include "device.h"
#include "blocks.h"
#include "commands.h"
#include "converter.h"
#include "events.h"
#include "faults.h"
#include "motion.h"

device_t device;

void device_start(const traits_t *traits, uint8_t inputs, uint8_t by_watchdog)
{
    uint8_t checked = 0;
    uint32_t capabilities = traits_capabilities(traits);
    if (capabilities & CAN_GUARD) checked |= INPUT_GUARD_CLOSED;
    if (capabilities & CAN_EMERGENCY_STOP) checked |= INPUT_EMERGENCY_STOP_RELEASED;
    if (capabilities & CAN_TRAVEL_LIMITS) checked |= INPUT_LOWER_LIMIT | INPUT_UPPER_LIMIT;

    device.traits = traits;
    device.capabilities = capabilities;
    if (traits->feeder) traits->feeder->stop();
    stepper_start(&device.stepper, inputs, checked);
    device.limits.id = 0;
    device.homed = device.streaming = 0;
    device.inputs_seen = inputs;
    device.motion_seen = MOTION_STILL;
    device.faults = by_watchdog ? FAULT_WATCHDOG : 0;
    if (checked & ~inputs & INPUT_EMERGENCY_STOP_RELEASED) device.faults |= FAULT_EMERGENCY_STOP;
    if (inputs & INPUT_DRIVER_FAULT) device.faults |= FAULT_DRIVER;
    device.faults_seen = device.faults;
    receiver_start(&device.receiver);
    motion_start();
    force_start();
    converter_start(traits);
    events_start();
    blocks_start();
    commands_start();
    port_motor_power(0);
    port_direction(1);
    port_transmit(0);                          /* ends whatever a restart cut short */
    event_raise(EVENT_STARTED, device.faults);
}

void device_byte(uint8_t byte)
{
    if (receiver_byte(&device.receiver, byte)) command_take();
}

static void watch_converter(void)
{
    if (!converter_settling() && !converter_sound() && !(device.faults & FAULT_CONVERTER)) fault_latch(FAULT_CONVERTER);
}

void device_conversion(int32_t counts, uint32_t stamp_microseconds, int32_t steps)
{
    uint8_t what = converter_conversion(counts, stamp_microseconds);
    if (what & CONVERSION_JUDGED) force_conversion();
    watch_converter();
    if (what & CONVERSION_COUNTS) blocks_sample(counts, stamp_microseconds, steps);
}

void device_conversion_failed(void)
{
    converter_failed();
    watch_converter();
}

static void tell_inputs(void)
{
    uint8_t in = device_inputs() & device.stepper.checked, changed = in ^ (device.inputs_seen & device.stepper.checked);
    if (!changed) return;
    device.inputs_seen = in;
    if (changed & INPUT_GUARD_CLOSED) event_raise(in & INPUT_GUARD_CLOSED ? EVENT_GUARD_CLOSED : EVENT_GUARD_OPENED, 0);
    if (changed & INPUT_EMERGENCY_STOP_RELEASED)
        event_raise(in & INPUT_EMERGENCY_STOP_RELEASED ? EVENT_EMERGENCY_STOP_RELEASED : EVENT_EMERGENCY_STOP_PRESSED, 0);
    blocks_hurry();
}

void device_millisecond(void)
{
    tell_inputs();
    uint8_t before = port_lock();
    uint16_t trips = device.stepper.trips;
    device.stepper.trips = 0;
    device.stepper.loop_left = LOOP_TICKS;
    port_unlock(before);
    if (trips) fault_latch(trips);
    converter_millisecond(motion_state() != MOTION_STILL);
    watch_converter();
    motion_millisecond();
    if (device.faults_seen != device.faults || device.motion_seen != motion_state()) blocks_hurry();
    device.faults_seen = device.faults;
    device.motion_seen = motion_state();
    commands_millisecond();
    events_millisecond();
    blocks_millisecond();
}

int32_t device_position(void)
{
    uint8_t before = port_lock();
    int32_t position = device.stepper.position;
    port_unlock(before);
    return position;
}

uint8_t device_inputs(void) { return device.stepper.inputs; }

uint8_t device_has_room(uint8_t payload_length, uint8_t kept)
{
    return port_transmit_room() >= (uint16_t)(payload_length + FRAME_OVERHEAD + kept);
}

void device_send(const uint8_t *payload, uint8_t length) { frame_send(payload, length, port_transmit); }
