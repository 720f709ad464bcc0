#include "events.h"
#include "line.h"
#include "port.h"
#include "wire.h"

#define EVENTS_MAX 8u
#define REPEAT_MILLISECONDS 100u
#define EVENT_LENGTH 12u

typedef struct { uint16_t number; uint8_t code; uint32_t stamp; int32_t detail; } event_t;
static struct { event_t waiting[EVENTS_MAX]; uint8_t first, count, due_in; uint16_t number; } events;

void events_start(void) { events.first = events.count = events.due_in = 0; events.number = 0; }

uint16_t event_pending(void) { return events.count ? events.waiting[events.first].number : 0; }

void event_raise(uint8_t code, int32_t detail)
{
    if (!++events.number) events.number = 1;
    if (events.count == EVENTS_MAX) return;    /* the missing number tells the host */
    event_t *e = &events.waiting[(events.first + events.count++) % EVENTS_MAX];
    e->number = events.number;
    e->code = code;
    e->stamp = port_microseconds();
    e->detail = detail;
}

void event_acknowledge(uint16_t number)
{
    if (!events.count || number != event_pending()) return;
    events.first = (uint8_t)((events.first + 1u) % EVENTS_MAX);
    events.count--;
    events.due_in = 0;
}

void events_millisecond(void)
{
    if (events.due_in) events.due_in--;
    if (!events.count || events.due_in || !line_has_room(EVENT_LENGTH, 0)) return;
    const event_t *e = &events.waiting[events.first];
    uint8_t payload[EVENT_LENGTH], *p = payload;
    *p++ = MSG_EVENT;
    p = put16(p, e->number);
    *p++ = e->code;
    put32(put32(p, e->stamp), (uint32_t)e->detail);
    line_send(payload, EVENT_LENGTH);
    events.due_in = REPEAT_MILLISECONDS;
}
