#include <avr/interrupt.h>
#include <avr/io.h>
#include "avr_serial.h"
#include "port.h"

#ifndef BAUD
#define BAUD 250000UL
#endif
#define DIVIDER   ((F_CPU + BAUD * 4UL) / (BAUD * 8UL) - 1UL)            /* at double speed */
#define BAUD_REAL (F_CPU / (8UL * (DIVIDER + 1UL)))
#if BAUD_REAL * 1000UL / BAUD < 975 || BAUD_REAL * 1000UL / BAUD > 1025
#error "this baud rate is more than 2.5 % off at this clock: 250000 and 500000 are exact at 16 MHz"
#endif

/* Heads and tails are bytes, so each side reads the other's in one instruction; 256 makes the wrap free. */
#define RECEIVE_SIZE 64u
static volatile uint8_t receive[RECEIVE_SIZE], receive_head, receive_tail;
static volatile uint8_t transmit[256], transmit_head, transmit_tail;
/* A block of the longest kind, and behind it what is kept free for answers and events (port.h): they have room whatever samples do. */
_Static_assert(79u + 5u * BLOCK_SAMPLES_MAX <= sizeof transmit - 1u, "the transmit buffer is too small for its blocks");

ISR(USART_RX_vect)
{
    uint8_t byte = UDR0, next = (uint8_t)(receive_head + 1u) & (RECEIVE_SIZE - 1u);
    if (next == receive_tail) return;          /* the checksum finds what is missing */
    receive[receive_head] = byte;
    receive_head = next;
}

ISR(USART_UDRE_vect)
{
    uint8_t tail = transmit_tail;
    if (tail == transmit_head) { UCSR0B &= (uint8_t)~(1u << UDRIE0); return; }
    UDR0 = transmit[tail];
    transmit_tail = (uint8_t)(tail + 1u);
}

void serial_start(void)
{
    UCSR0A = 1u << U2X0;                       /* before UBRR0L: the simulator works out the byte time on that write */
    UCSR0C = 1u << UCSZ01 | 1u << UCSZ00;
    UCSR0B = 1u << RXEN0 | 1u << TXEN0 | 1u << RXCIE0;
    UBRR0H = (uint8_t)(DIVIDER >> 8);
    UBRR0L = (uint8_t)DIVIDER;
}

uint8_t serial_waits(void) { return receive_head != receive_tail; }

uint8_t serial_take(uint8_t *byte)
{
    uint8_t tail = receive_tail;
    if (receive_head == tail) return 0;
    *byte = receive[tail];
    receive_tail = (uint8_t)(tail + 1u) & (RECEIVE_SIZE - 1u);
    return 1;
}

uint16_t port_transmit_room(void) { return (uint8_t)(transmit_tail - transmit_head - 1u); }

void port_transmit(uint8_t byte)
{
    uint8_t head = transmit_head;
    transmit[head] = byte;
    transmit_head = (uint8_t)(head + 1u);
    uint8_t before = port_lock();              /* the register is written by the interrupt as well */
    UCSR0B |= 1u << UDRIE0;
    port_unlock(before);
}
