#include "stepper.h"
#include "port.h"

volatile stepper_t stepper;

void stepper_start(uint8_t raw, uint8_t checked, uint8_t guard_holds_power)
{
    uint8_t bad = raw ^ INPUTS_GOOD_WHEN_SET;
    uint8_t before = port_lock();
    stepper = (stepper_t){ .direction = 1, .inputs = raw, .unsettled = bad, .checked = checked, .loop_left = LOOP_TICKS,
                           .guard_holds_power = guard_holds_power };
    for (uint8_t i = 0; i < 8; i++) if (bad >> i & 1u) stepper.bad_for[i] = INPUT_BAD_TICKS;
    port_unlock(before);
}

int32_t stepper_position(void)
{
    uint8_t before = port_lock();
    int32_t position = stepper.position;
    port_unlock(before);
    return position;
}

uint8_t stepper_inputs(void) { return stepper.inputs; }

void stepper_live(void)
{
    uint8_t before = port_lock();
    stepper.keep_alive_left = KEEP_ALIVE_TICKS;
    port_unlock(before);
}

uint8_t stepper_lives(void)
{
    uint8_t before = port_lock();
    uint16_t left = stepper.keep_alive_left;
    port_unlock(before);
    return left != 0;
}

uint16_t stepper_take_trips(void)
{
    uint8_t before = port_lock();
    uint16_t trips = stepper.trips;
    stepper.trips = 0;
    stepper.loop_left = LOOP_TICKS;
    port_unlock(before);
    return trips;
}

void stepper_forget_trips(void)
{
    uint8_t before = port_lock();
    stepper.trips = 0;
    port_unlock(before);
}

void stepper_power(uint8_t on)
{
    uint8_t before = port_lock();
    stepper.powered = on;
    port_motor_power(on);
    port_unlock(before);
}
