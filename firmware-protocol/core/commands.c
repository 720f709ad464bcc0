#include "commands.h"
#include "blocks.h"
#include "converter.h"
#include "device.h"
#include "events.h"
#include "faults.h"
#include "motion.h"

#define ANSWER_LENGTH 9u
#define HELLO_HEAD 59u

typedef struct { uint16_t number; uint8_t type, result; uint32_t detail; } answer_t;
static struct { answer_t last; uint8_t hello_due; uint8_t counter_seen; uint16_t counter; } commands;

void commands_start(void)
{
    commands.last.number = 0;
    commands.counter_seen = 0;
    commands.hello_due = 1;
}

uint16_t command_last(void) { return commands.last.number; }

static void send_answer(const answer_t *a)
{
    if (!device_has_room(ANSWER_LENGTH, 0)) return;    /* the host repeats the command and gets it then */
    uint8_t payload[ANSWER_LENGTH], *p = payload;
    *p++ = MSG_ANSWER;
    p = put16(p, a->number);
    *p++ = a->type;
    *p++ = a->result;
    put32(p, a->detail);
    device_send(payload, ANSWER_LENGTH);
}

void commands_millisecond(void)
{
    if (!commands.hello_due) return;
    const traits_t *t = device.traits;
    uint8_t name = 0;
    while (name < NAME_MAX && t->name[name]) name++;
    if (!device_has_room((uint8_t)(HELLO_HEAD + name), 0)) return;
    uint8_t payload[HELLO_HEAD + NAME_MAX], *p = payload;
    *p++ = MSG_HELLO;
    *p++ = WIRE_VERSION_MAJOR;
    *p++ = WIRE_VERSION_MINOR;
    p = put32(p, t->boot_number);
    p = put32(put32(p, (uint32_t)t->device_id), (uint32_t)(t->device_id >> 32));
    p = put16(p, t->firmware_version);
    p = put32(p, device.capabilities);
    p = put32(p, t->converter_rate_millihertz);
    *p++ = t->converter_bits;
    p = put32(p, t->converter_delay_microseconds);
    p = put32(p, t->steps_per_metre);
    p = put32(put32(p, (uint32_t)t->force_min), (uint32_t)t->force_max);
    p = put32(put32(p, (uint32_t)t->travel_min), (uint32_t)t->travel_max);
    p = put32(put32(p, t->speed_max), t->acceleration_max);
    *p++ = name;
    for (uint8_t i = 0; i < name; i++) *p++ = (uint8_t)t->name[i];
    device_send(payload, (uint8_t)(HELLO_HEAD + name));
    commands.hello_due = 0;
}

static void keep_alive(const uint8_t *p)
{
    uint16_t counter = get16(p + 5);
    int16_t newer = (int16_t)(counter - commands.counter);
    if (get32(p + 1) != device.traits->boot_number) return;
    uint8_t before = port_lock();
    /* An older one is no life while there is some: recorded ones sent in turn must not hold a motion. After a silence a host may have begun anew. */
    if (!commands.counter_seen || newer > 0 || (newer && !device.stepper.keep_alive_left)) {
        commands.counter_seen = 1;
        commands.counter = counter;
        device.stepper.keep_alive_left = KEEP_ALIVE_TICKS;
    }
    port_unlock(before);
}

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
    *detail = l.id | (uint32_t)device.receiver.payload_crc << 16;
    return RESULT_DONE;
}

/* What every motion needs; `busy` is the last check that all have in common. */
static uint8_t may_move(const uint8_t *p, uint8_t busy)
{
    uint8_t in = device_inputs(), have = device.stepper.checked;
    if (get32(p + 3) != device.traits->boot_number) return RESULT_WRONG_BOOT;
    if (!device.limits.id || get16(p + 7) != device.limits.id) return RESULT_WRONG_LIMITS;
    if (have & ~in & INPUT_EMERGENCY_STOP_RELEASED) return RESULT_EMERGENCY_STOP_PRESSED;
    if (!converter_sound()) fault_latch(FAULT_CONVERTER);      /* no force limit could be held */
    if (device.faults) return RESULT_FAULTED;
    if (have & ~in & INPUT_GUARD_CLOSED) return RESULT_GUARD_OPEN;
    uint8_t before = port_lock();
    uint16_t alive = device.stepper.keep_alive_left;
    port_unlock(before);
    if (!alive) return RESULT_NO_KEEP_ALIVE;
    return busy ? RESULT_BUSY : RESULT_DONE;
}

static uint8_t move(const uint8_t *p)
{
    uint8_t kind = p[9];
    int32_t speed = (int32_t)get32(p + 10), target = (int32_t)get32(p + 18);
    uint32_t acceleration = get32(p + 14), magnitude = speed < 0 ? 0u - (uint32_t)speed : (uint32_t)speed;
    if (kind > MOVE_TO_POSITION || !speed || !acceleration) return RESULT_BAD_VALUE;
    uint8_t state = motion_state();
    uint8_t result = may_move(p, state != MOTION_STILL && state != MOTION_MOVING);
    if (result) return result;
    if (kind == MOVE_TO_POSITION && (device.capabilities & CAN_HOMING) && !device.homed) return RESULT_NOT_HOMED;
    if (magnitude > device.limits.speed_max || acceleration > device.limits.acceleration_max) return RESULT_OUTSIDE_LIMITS;
    if (kind == MOVE_TO_POSITION && (target < device.limits.travel_min || target > device.limits.travel_max)) return RESULT_OUTSIDE_LIMITS;
    int8_t direction = motion_direction_of(kind, speed, target);
    int32_t position = device_position();
    uint8_t closed = device_inputs() & device.stepper.checked & (direction > 0 ? INPUT_UPPER_LIMIT : INPUT_LOWER_LIMIT);
    if (direction && (closed || (direction > 0 ? position >= device.limits.travel_max : position <= device.limits.travel_min)))
        return RESULT_OUTSIDE_LIMITS;
    if (direction && !force_allows(direction)) return RESULT_OUTSIDE_LIMITS;
    force_motion_begins();
    motion_move(kind, speed, acceleration, target);
    return RESULT_DONE;
}

static uint8_t home(const uint8_t *p)
{
    uint32_t speed = get32(p + 9);
    if (!speed) return RESULT_BAD_VALUE;
    uint8_t result = may_move(p, motion_state() != MOTION_STILL);
    if (result) return result;
    uint8_t closed = device_inputs() & device.stepper.checked & INPUT_LIMITS;
    if (closed == INPUT_LIMITS) return RESULT_OUTSIDE_LIMITS;      /* both at once cannot be: a plug is out */
    if (speed > device.limits.speed_max || force_beyond()) return RESULT_OUTSIDE_LIMITS;
    force_motion_begins();
    motion_home(speed);
    return RESULT_DONE;
}

static uint8_t feed(const uint8_t *p)
{
    uint8_t result = may_move(p, motion_state() != MOTION_STILL);
    if (result) return result;
    if (force_beyond()) return RESULT_OUTSIDE_LIMITS;
    force_motion_begins();
    motion_feed();
    return RESULT_DONE;
}

static uint8_t clear_faults(const uint8_t *p)
{
    if (get32(p + 3) != device.traits->boot_number) return RESULT_WRONG_BOOT;
    if (motion_state() != MOTION_STILL) return RESULT_BUSY;
    faults_clear(get16(p + 7));
    return RESULT_DONE;
}

static uint8_t stream(const uint8_t *p)
{
    if (get32(p + 4)) return RESULT_NOT_CAPABLE;      /* the rate is a strap on the converter */
    blocks_close();                                   /* what comes after a pause must not be numbered on from before it */
    device.streaming = p[3] != 0;
    blocks_forget_drops();
    return RESULT_DONE;
}

static uint8_t length_of(uint8_t type)
{
    switch (type) {
    case MSG_ASK_HELLO: case MSG_STOP: return 3;       /* a stop without its last byte is a stop at once */
    case MSG_SET_LIMITS: return 33;
    case MSG_MOVE: return 22;
    case MSG_HOME: return 13;
    case MSG_CLEAR_FAULTS: case MSG_FEED: return 9;
    case MSG_STREAM: return 8;
    default: return 0;                                 /* not known here */
    }
}

/* What restricts or moves takes no fields of a later version: one that is skipped here could be the one that forbids. */
static uint8_t takes_tail(uint8_t type) { return type != MSG_SET_LIMITS && type != MSG_MOVE && type != MSG_HOME && type != MSG_FEED; }

static uint8_t capable(uint8_t type)
{
    uint32_t can = device.capabilities;
    uint8_t moves = (can & CAN_MOTION) != 0;
    switch (type) {
    case MSG_SET_LIMITS: case MSG_MOVE: return moves;
    case MSG_HOME: return moves && (can & CAN_HOMING);
    case MSG_FEED: return moves && (can & CAN_FEEDER);
    default: return 1;
    }
}

static uint8_t act(const uint8_t *p, uint32_t *detail)
{
    switch (p[0]) {
    case MSG_ASK_HELLO: commands.hello_due = 1; return RESULT_DONE;
    case MSG_SET_LIMITS: return set_limits(p, detail);
    case MSG_MOVE: return move(p);
    case MSG_HOME: return home(p);
    case MSG_CLEAR_FAULTS: return clear_faults(p);
    case MSG_FEED: return feed(p);
    default: return stream(p);
    }
}

void command_take(void)
{
    const uint8_t *p = device.receiver.payload;
    uint8_t length = device.receiver.length, type = p[0];
    if (type == MSG_KEEP_ALIVE) { if (length >= 7) keep_alive(p); return; }
    if (type == MSG_ACKNOWLEDGE_EVENT) {
        if (length >= 7 && get32(p + 1) == device.traits->boot_number) event_acknowledge(get16(p + 5));
        return;
    }
    if (type < MSG_COMMAND_FIRST || type > MSG_COMMAND_LAST) return;

    answer_t a = { length >= 3 ? get16(p + 1) : 0, type, RESULT_DONE, 0 };
    if (type == MSG_STOP) motion_stop(length < 4 || p[3]);     /* in any state and whatever else the frame says */
    int16_t newer = (int16_t)(a.number - commands.last.number);
    uint8_t first = !commands.last.number;
    uint8_t needed = length_of(type);
    if (!a.number && !(type == MSG_ASK_HELLO && length >= 3)) {
        if (type != MSG_STOP) a.result = needed ? RESULT_BAD_VALUE : RESULT_UNKNOWN_TYPE;
    } else if (!first && !newer && type != MSG_ASK_HELLO && type != MSG_STOP) {
        a = commands.last;
    } else if (!first && newer < 0 && type != MSG_ASK_HELLO && type != MSG_STOP) {
        a.result = RESULT_SUPERSEDED;
    } else {
        if (!needed) a.result = RESULT_UNKNOWN_TYPE;
        else if (!capable(type)) a.result = RESULT_NOT_CAPABLE;
        else if (length < needed || (length > needed && !takes_tail(type))) a.result = RESULT_BAD_VALUE;
        else if (type != MSG_STOP) a.result = act(p, &a.detail);
        if (a.number && (first || newer > 0 || type == MSG_ASK_HELLO)) commands.last = a;
    }
    send_answer(&a);
}
