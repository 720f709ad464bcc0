#include "device.h"
#include "blocks.h"
#include "channels.h"
#include "commands.h"
#include "converter.h"
#include "events.h"
#include "supervisor.h"
#ifdef RIG_MEASURES_ONLY
#include "measuring.h"
#else
#include "force.h"
#include "motion.h"
#endif

device_t device;

/* ---- what it is now ---- */

static situation_t situation(void)
{
    return (situation_t){
        .capabilities = device.capabilities, .limits = &device.limits, .position = stepper_position(), .faults = device.faults,
        .inputs = stepper_inputs(), .checked = stepper.checked, .motion = motion_state(), .homed = motion_homed(),
        .releasing = motion_releasing(), .lives = stepper_lives(), .converter_sound = converter_sound(), .held = device.held,
        .closed_loop = device.traits->closed_loop, .force_beyond = force_beyond(), .last_direction = motion_last_direction(),
        .creep = motion_creep(),
    };
}

static snapshot_t snapshot(void)
{
    const traits_t *t = device.traits;
    uint16_t inputs = stepper_inputs() & (uint16_t)stepper.checked & (uint16_t)~INPUT_DRIVER_FAULT;
    if (converter_alive()) inputs |= INPUT_CONVERTER_ALIVE;
    if (t->feeder) inputs |= t->feeder->inputs() & (INPUT_SPECIMEN_LOADED | INPUT_FEEDER_EMPTY);
    return (snapshot_t){
        .boot_number = t->boot_number, .period_nanoseconds = converter_period_nanoseconds(), .inputs = inputs, .motion = motion_state(),
        .homed = motion_homed(), .powered = stepper.powered, .streaming = device.streaming, .faults = device.faults,
        .limits_id = device.limits.id, .last_command = commands_last(), .pending_event = event_pending(), .position = stepper_position(),
    };
}

/* ---- what it does ---- */

static void latch(uint16_t bits);

/* Tells what came of a motion, in the order in which it did; a fault that it ran into is latched on the way. */
static void tell_motion(void)
{
    happened_t happened = motion_take();
    if (happened.what & HAPPENED_HOMED) event_raise(EVENT_HOMED, happened.home_was);
    if (happened.what & HAPPENED_LOADED) event_raise(EVENT_SPECIMEN_LOADED, happened.fed);
    if (happened.what & HAPPENED_EMPTY) event_raise(EVENT_FEEDER_EMPTY, 0);
    if (happened.what & HAPPENED_ENDED) event_raise(EVENT_MOTION_ENDED, stepper_position());
    if (happened.faults) latch(happened.faults);
}

/* Latches, stops, cuts, tells. */
static void latch(uint16_t bits)
{
    situation_t now = situation();
    uint16_t raised = bits & (uint16_t)~device.faults;
    device.faults |= bits;
    if (supervisor_cuts_power(bits)) stepper_power(0);
    for (uint16_t bit = 1; bit; bit = (uint16_t)(bit << 1))
        if (raised & bit) event_raise(EVENT_FAULT_RAISED, bit);
    if (supervisor_unhomes(&now, bits)) motion_unhome();
    if (supervisor_stops(&now, bits)) motion_stop(1);
    tell_motion();
}

static void watch_converter(void)
{
    if (!converter_settling() && !converter_sound() && !(device.faults & FAULT_CONVERTER)) latch(FAULT_CONVERTER);
}

/* ---- what the host asks for ---- */

static uint8_t set_limits(const uint8_t *p, uint32_t *detail)
{
    limits_t l = { get16(p + 3), (int32_t)get32(p + 5), (int32_t)get32(p + 9), (int32_t)get32(p + 13), (int32_t)get32(p + 17),
                   get32(p + 21), get32(p + 25), get32(p + 29) };
    const traits_t *t = device.traits;
    if (!l.id || l.force_min >= l.force_max || l.travel_min >= l.travel_max || !l.speed_max || !l.acceleration_max || !l.time_max)
        return RESULT_BAD_VALUE;
    if (motion_state() != MOTION_STILL) return RESULT_BUSY;
    if (l.force_min < t->force_min || l.force_max > t->force_max || l.travel_min < t->travel_min || l.travel_max > t->travel_max
        || l.speed_max > t->speed_max || l.acceleration_max > t->acceleration_max)
        return RESULT_OUTSIDE_LIMITS;
    device.limits = l;
    force_limits_set();
    *detail = l.id | (uint32_t)device.receiver.payload_crc << 16;
    return RESULT_DONE;
}

/* Whether a wish is granted, in the place where it would begin. */
static uint8_t permits(wish_t *wish, const uint8_t *p)
{
    wish->type = p[0];
    wish->right_boot = get32(p + 3) == device.traits->boot_number;
    wish->limits_id = get16(p + 7);
    situation_t now = situation();
    uint8_t result = supervisor_permits(&now, wish);
    if (result == RESULT_FAULTED && supervisor_found(&now, wish)) latch(supervisor_found(&now, wish));
    if (result == RESULT_DONE) force_motion_begins(now.motion != MOTION_STILL);
    return result;
}

static uint8_t move(const uint8_t *p)
{
    int32_t speed = (int32_t)get32(p + 10), target = (int32_t)get32(p + 18);
    wish_t wish = { .kind = p[9], .speed = speed < 0 ? 0u - (uint32_t)speed : (uint32_t)speed, .acceleration = get32(p + 14), .target = target };
    if (wish.kind > MOVE_RELEASE || !speed || !wish.acceleration) return RESULT_BAD_VALUE;
    wish.direction = motion_direction_of(wish.kind, speed, target);
    wish.force_allows = force_allows(wish.direction);
    uint8_t result = permits(&wish, p);
    if (result == RESULT_DONE) motion_move(wish.kind, speed, wish.acceleration, target);
    return result;
}

static uint8_t home(const uint8_t *p)
{
    wish_t wish = { .speed = get32(p + 9) };
    if (!wish.speed) return RESULT_BAD_VALUE;
    uint8_t result = permits(&wish, p);
    if (result == RESULT_DONE) motion_home(wish.speed);
    return result;
}

static uint8_t feed(const uint8_t *p)
{
    wish_t wish = { 0 };
    uint8_t result = permits(&wish, p);
    if (result == RESULT_DONE) motion_feed();
    return result;
}

static uint8_t clear_faults(const uint8_t *p)
{
    if (get32(p + 3) != device.traits->boot_number) return RESULT_WRONG_BOOT;
    if (motion_state() != MOTION_STILL) return RESULT_BUSY;
    stepper_forget_trips();                    /* what still holds is tripped again by the next tick */
    situation_t now = situation();
    device.faults &= (uint16_t)~(get16(p + 7) & (uint16_t)~supervisor_standing(&now));
    return RESULT_DONE;
}

static uint8_t stream(const uint8_t *p)
{
    if (get32(p + 4)) return RESULT_NOT_CAPABLE;      /* the rate is a strap on the converter */
    snapshot_t now = snapshot();
    blocks_close(&now);                               /* what comes after a pause must not be numbered on from before it */
    device.streaming = p[3] != 0;
    blocks_forget_drops();
    return RESULT_DONE;
}

static uint8_t act(const uint8_t *p, uint8_t length, uint32_t *detail)
{
    uint8_t result = RESULT_DONE;
    switch (p[0]) {
    case MSG_STOP: motion_stop(length < 4 || p[3]); break;    /* too short: at once */
    case MSG_SET_LIMITS: result = set_limits(p, detail); break;
    case MSG_MOVE: result = move(p); break;
    case MSG_HOME: result = home(p); break;
    case MSG_FEED: result = feed(p); break;
    case MSG_CLEAR_FAULTS: result = clear_faults(p); break;
    case MSG_CHANNEL: result = channels_take(p); break;
    default: result = stream(p); break;
    }
    tell_motion();
    return result;
}

/* ---- read, decide, act, report ---- */

void device_start(const traits_t *traits, uint8_t inputs, uint8_t cause)
{
    uint8_t checked = 0;
    uint32_t capabilities = traits_capabilities(traits);
    if (capabilities & CAN_GUARD) checked |= INPUT_GUARD_CLOSED;
    if (capabilities & CAN_EMERGENCY_STOP) checked |= INPUT_EMERGENCY_STOP_RELEASED;
    if (capabilities & CAN_TRAVEL_LIMITS) checked |= INPUT_LIMITS;

    device = (device_t){ .traits = traits, .capabilities = capabilities, .held = (cause & START_HELD) != 0, .inputs_seen = inputs,
                         .motion_seen = MOTION_STILL };
    stepper_start(inputs, checked, traits->screw_needs_power);
    if (cause & (START_BY_WATCHDOG | START_HELD)) device.faults |= FAULT_WATCHDOG;
    if (checked & ~inputs & INPUT_EMERGENCY_STOP_RELEASED) device.faults |= FAULT_EMERGENCY_STOP;
    if (inputs & INPUT_DRIVER_FAULT) device.faults |= FAULT_DRIVER;
    device.faults_seen = device.faults;
    receiver_start(&device.receiver);
    motion_start(traits, &device.limits);
    force_start(&device.limits);
    converter_start(traits);
    events_start();
    blocks_start();
    channels_start(traits);
    commands_start(traits, capabilities, act);
    port_motor_power(0);
    port_direction(1);
    port_transmit(0);                          /* ends whatever a restart cut short */
    event_raise(EVENT_STARTED, (int32_t)(device.faults | (uint32_t)cause << 16));
}

void device_byte(uint8_t byte)
{
    if (receiver_byte(&device.receiver, byte)) commands_take(device.receiver.payload, device.receiver.length);
}

void device_conversion(int32_t counts, uint32_t stamp_microseconds, int32_t steps)
{
    uint8_t what = converter_conversion(counts, stamp_microseconds);
    uint8_t too_much = (what & CONVERSION_JUDGED) && force_conversion(motion_direction(), motion_state() != MOTION_STILL);
    if (too_much && (converter_sound() || !motion_releasing())) latch(FAULT_FORCE);      /* a dead converter's readings end no release */
    watch_converter();
    if (!(what & CONVERSION_COUNTS)) return;
    snapshot_t now = snapshot();
    uint32_t number = blocks_sample(&now, counts, stamp_microseconds, steps);
    if (device.streaming && !channels_conversion(number)) blocks_dropped();
}

void device_conversion_failed(void)
{
    converter_failed();
    watch_converter();
}

static void tell_inputs(void)
{
    uint8_t in = stepper_inputs() & stepper.checked, changed = in ^ (device.inputs_seen & stepper.checked);
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
    uint16_t trips = stepper_take_trips();
    if (trips) latch(trips);
    converter_millisecond(motion_state() != MOTION_STILL);
    watch_converter();
    if (motion_counts_anew_next()) {
        snapshot_t before = snapshot();
        blocks_close(&before);
    }
    motion_millisecond();
    tell_motion();
    if (device.faults_seen != device.faults || device.motion_seen != motion_state()) blocks_hurry();
    device.faults_seen = device.faults;
    device.motion_seen = motion_state();
    commands_millisecond();
    events_millisecond();
    snapshot_t now = snapshot();
    blocks_millisecond(&now);
}
