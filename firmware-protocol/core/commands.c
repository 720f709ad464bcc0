#include "commands.h"
#include "events.h"
#include "line.h"
#include "stepper.h"
#include "wire.h"

#define ANSWER_LENGTH 9u
#define HELLO_HEAD 59u
#define HELLO_TAIL 5u                                  /* channels, and what the line carries: where there are channels */

typedef struct { uint16_t number; uint8_t type, result; uint32_t detail; } answer_t;
static struct {
    const traits_t *traits;
    commands_act *act;
    uint32_t capabilities;
    answer_t last;
    uint8_t  hello_due, counter_seen;
    uint16_t counter;
} commands;

void commands_start(const traits_t *traits, uint32_t capabilities, commands_act *act)
{
    commands.traits = traits;
    commands.capabilities = capabilities;
    commands.act = act;
    commands.last.number = 0;
    commands.counter_seen = 0;
    commands.hello_due = 1;
}

uint16_t commands_last(void) { return commands.last.number; }

static void send_answer(const answer_t *a)
{
    if (!line_has_room(ANSWER_LENGTH, 0)) return;    /* the host repeats the command and gets it then */
    uint8_t payload[ANSWER_LENGTH], *p = payload;
    *p++ = MSG_ANSWER;
    p = put16(p, a->number);
    *p++ = a->type;
    *p++ = a->result;
    put32(p, a->detail);
    line_send(payload, ANSWER_LENGTH);
}

void commands_millisecond(void)
{
    if (!commands.hello_due) return;
    const traits_t *t = commands.traits;
    uint8_t name = 0;
    while (name < NAME_MAX && t->name[name]) name++;
    uint8_t length = (uint8_t)(HELLO_HEAD + name + (commands.capabilities & CAN_CHANNELS ? HELLO_TAIL : 0));
    if (!line_has_room(length, 0)) return;
    uint8_t payload[HELLO_HEAD + NAME_MAX + HELLO_TAIL], *p = payload;
    *p++ = MSG_HELLO;
    *p++ = WIRE_VERSION_MAJOR;
    *p++ = WIRE_VERSION_MINOR;
    p = put32(p, t->boot_number);
    p = put32(put32(p, (uint32_t)t->device_id), (uint32_t)(t->device_id >> 32));
    p = put16(p, t->firmware_version);
    p = put32(p, commands.capabilities);
    p = put32(p, t->converter_rate_millihertz);
    *p++ = t->converter_bits;
    p = put32(p, t->converter_delay_microseconds);
    p = put32(p, t->steps_per_metre);
    p = put32(put32(p, (uint32_t)t->force_min), (uint32_t)t->force_max);
    p = put32(put32(p, (uint32_t)t->travel_min), (uint32_t)t->travel_max);
    p = put32(put32(p, t->speed_max), t->acceleration_max);
    *p++ = name;
    for (uint8_t i = 0; i < name; i++) *p++ = (uint8_t)t->name[i];
    *p++ = t->channel_count;
    put32(p, 0);                                       /* the baud rate says what the line carries */
    line_send(payload, length);
    commands.hello_due = 0;
}

static void keep_alive(const uint8_t *p)
{
    uint16_t counter = get16(p + 5);
    int16_t newer = (int16_t)(counter - commands.counter);
    if (get32(p + 1) != commands.traits->boot_number) return;
    /* An older one is no life while there is some: recorded ones sent in turn must not hold a motion. After a silence a host may have begun anew. */
    if (commands.counter_seen && newer <= 0 && (!newer || stepper_lives())) return;
    commands.counter_seen = 1;
    commands.counter = counter;
    stepper_live();
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
    case MSG_CHANNEL: return commands.capabilities & CAN_CHANNELS ? 5 : 0;
    default: return 0;                                 /* not known here */
    }
}

/* What restricts or moves takes no fields of a later version: one that is skipped here could be the one that forbids. */
static uint8_t takes_tail(uint8_t type) { return type != MSG_SET_LIMITS && type != MSG_MOVE && type != MSG_HOME && type != MSG_FEED; }

static uint8_t capable(uint8_t type)
{
    uint32_t can = commands.capabilities;
    uint8_t moves = (can & CAN_MOTION) != 0;
    switch (type) {
    case MSG_SET_LIMITS: case MSG_MOVE: return moves;
    case MSG_HOME: return moves && (can & CAN_HOMING);
    case MSG_FEED: return moves && (can & CAN_FEEDER);
    default: return 1;
    }
}

static uint8_t obey(const uint8_t *p, uint8_t length, uint32_t *detail)
{
    if (p[0] == MSG_ASK_HELLO) { commands.hello_due = 1; return RESULT_DONE; }
    return commands.act(p, length, detail);
}

void commands_take(const uint8_t *p, uint8_t length)
{
    uint8_t type = p[0];
    if (type == MSG_KEEP_ALIVE) { if (length >= 7) keep_alive(p); return; }
    if (type == MSG_ACKNOWLEDGE_EVENT) {
        if (length >= 7 && get32(p + 1) == commands.traits->boot_number) event_acknowledge(get16(p + 5));
        return;
    }
    if (type < MSG_COMMAND_FIRST || type > MSG_COMMAND_LAST) return;

    answer_t a = { length >= 3 ? get16(p + 1) : 0, type, RESULT_DONE, 0 };
    if (type == MSG_STOP) obey(p, length, &a.detail);          /* in any state and whatever else the frame says */
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
        else if (type != MSG_STOP) a.result = obey(p, length, &a.detail);
        if (a.number && (first || newer > 0 || type == MSG_ASK_HELLO)) commands.last = a;
    }
    send_answer(&a);
}
