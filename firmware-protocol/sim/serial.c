#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>
#include "board.h"
#include "avr_uart.h"

/* The kernel's own layout and number: the library's speeds are an enumeration that lacks 250,000 baud. */
struct kernel_termios2 { unsigned iflag, oflag, cflag, lflag; unsigned char line, cc[19]; unsigned ispeed, ospeed; };
#define KERNEL_TCGETS2 0x802C542A

unsigned long serial_from_device, serial_to_device, serial_lost;
static int master = -1, use_pty = 1, check_baud;
static char link_path[256];
static avr_uart_t *uart;
static avr_irq_t *uart_input;
static uint8_t out[1 << 16], in[1 << 13];
static unsigned out_length, in_head, in_tail;

static void on_byte(avr_irq_t *irq, uint32_t byte, void *unused)
{
    (void)irq; (void)unused;
    serial_from_device++;
    if (out_length < sizeof out) out[out_length++] = (uint8_t)byte; else serial_lost++;
}

/* One byte each byte time, as on a wire. */
static avr_cycle_count_t to_device(avr_t *a, avr_cycle_count_t when, void *unused)
{
    (void)a; (void)unused;
    if (in_head == in_tail) return 0;
    avr_raise_irq(uart_input, in[in_tail++ % sizeof in]);
    serial_to_device++;
    return when + uart->cycles_per_byte;
}

void serial_give(const uint8_t *bytes, unsigned length)
{
    while (length--) in[in_head++ % sizeof in] = *bytes++;
    if (!avr_cycle_timer_status(avr, to_device, NULL)) avr_cycle_timer_register(avr, uart->cycles_per_byte, to_device, NULL);
}

void serial_after_reset(void)
{
    if (uart && in_head != in_tail) avr_cycle_timer_register(avr, uart->cycles_per_byte, to_device, NULL);
}

static double device_baud(void)
{
    int divider = avr->data[0xC4] | (avr->data[0xC5] & 15) << 8;
    return F_CPU / ((avr->data[0xC0] & 2 ? 8 : 16) * (divider + 1));
}

static uint8_t garbled(void)
{
    struct kernel_termios2 t;
    if (!check_baud || ioctl(master, KERNEL_TCGETS2, &t)) return 0;
    double ratio = t.ospeed / device_baud();
    return ratio < 0.96 || ratio > 1.04 ? 0x5A : 0;
}

void serial_check_baud(int on) { check_baud = on; }
void serial_use_pty(int on)    { use_pty = on; }

unsigned serial_collect(uint8_t *bytes, unsigned room)
{
    unsigned n = out_length < room ? out_length : room;
    memcpy(bytes, out, n);
    memmove(out, out + n, out_length - n);
    out_length -= n;
    return n;
}

void serial_pump(void)
{
    if (!use_pty) return;
    struct pollfd p = { .fd = master, .events = POLLIN };
    poll(&p, 1, 0);
    if (p.revents & POLLHUP) { out_length = 0; return; }       /* nobody there: the bytes go nowhere, as on a wire */
    uint8_t wrong = garbled(), bytes[512];
    unsigned room = sizeof in - (in_head - in_tail);
    ssize_t n = room ? read(master, bytes, room < sizeof bytes ? room : sizeof bytes) : 0;
    if (n > 0) {
        for (ssize_t i = 0; i < n; i++) bytes[i] ^= wrong;
        serial_give(bytes, (unsigned)n);
    }
    if (!out_length) return;
    if (wrong) for (unsigned i = 0; i < out_length; i++) out[i] ^= wrong;
    n = write(master, out, out_length);
    if (n > 0) { memmove(out, out + n, out_length - (size_t)n); out_length -= (unsigned)n; }
    else if (n < 0 && errno == EAGAIN && out_length > 8192) { serial_lost += out_length; out_length = 0; }    /* it does not read */
    if (wrong) for (unsigned i = 0; i < out_length; i++) out[i] ^= wrong;
}

static void unlink_path(void) { if (*link_path) unlink(link_path); }

const char *serial_start(const char *link)
{
    static char name[128];
    struct termios t;
    int slave;
    if (openpty(&master, &slave, name, NULL, NULL)) { perror("openpty"); exit(1); }
    tcgetattr(slave, &t);
    cfmakeraw(&t);                  /* before anyone opens it: a cooked line would echo */
    tcsetattr(slave, TCSANOW, &t);
    close(slave);                   /* the settings stay, and a hang-up now tells whether a client is there */
    fcntl(master, F_SETFL, O_NONBLOCK);
    if (link) {
        snprintf(link_path, sizeof link_path, "%s", link);
        unlink(link_path);
        if (symlink(name, link_path)) { perror(link_path); exit(1); }
        atexit(unlink_path);
    }
    for (avr_io_t *io = avr->io_port; io; io = io->next) if (!strcmp(io->kind, "uart")) uart = (avr_uart_t *)io;
    uint32_t flags = 0;
    avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);     /* no copy to the terminal, no sleeping when polled */
    uart_input = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_INPUT);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), on_byte, NULL);
    return name;
}
