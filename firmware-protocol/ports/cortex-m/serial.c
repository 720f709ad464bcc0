/* The line: UART 0, received by interrupt, sent from the main loop. Neither waits. A chip with native USB has its two bulk endpoints here; then what is sent
 * while nobody listens is thrown away (PROTOCOL.md, 1). */
#include "chip.h"
#include "port.h"
#include "serial.h"

#ifndef BAUD
#define BAUD 250000u
#endif
#define IN_MAX  512u                           /* powers of two */
#define OUT_MAX 1024u

static uint8_t in[IN_MAX], out[OUT_MAX];
static volatile uint16_t in_head;
static uint16_t in_tail, out_head, out_tail;

void serial_start(void)
{
    chip_uart(UART0, BAUD);
    UART(UART0, UART_IM) = 1u << 4 | 1u << 6;              /* received, and received but waiting */
    NVIC_PRIORITY(IRQ_UART0, 2);
    NVIC_ENABLE(IRQ_UART0);
}

void serial_interrupt(void)
{
    UART(UART0, UART_ICR) = 0x7FFu;
    while (!(UART(UART0, UART_FR) & FR_RECEIVE_EMPTY)) {
        uint8_t byte = (uint8_t)UART(UART0, UART_DR);
        uint16_t next = (uint16_t)((in_head + 1u) % IN_MAX);
        if (next == in_tail) continue;         /* lost: a frame fails its checksum, and the host repeats it */
        in[in_head] = byte;
        in_head = next;
    }
}

uint8_t serial_take(uint8_t *byte)
{
    if (in_tail == in_head) return 0;
    *byte = in[in_tail];
    in_tail = (uint16_t)((in_tail + 1u) % IN_MAX);
    return 1;
}

uint16_t port_transmit_room(void) { return (uint16_t)(OUT_MAX - 1u - (uint16_t)(out_head - out_tail) % OUT_MAX); }

void port_transmit(uint8_t byte)
{
    out[out_head] = byte;
    out_head = (uint16_t)((out_head + 1u) % OUT_MAX);
}

void serial_pass_on(void)
{
    while (out_tail != out_head && !(UART(UART0, UART_FR) & FR_TRANSMIT_FULL)) {
        UART(UART0, UART_DR) = out[out_tail];
        out_tail = (uint16_t)((out_tail + 1u) % OUT_MAX);
    }
}
