#include "chip.h"
#include "crc8.h"
#include "driver.h"

/* Frames as many step drivers have them. Ask: sync, address, register, CRC-8. Write: the same with the register's top bit set and four bytes of value, the
 * highest first, before the checksum. Answer: sync, 0xFF, register, value, CRC-8. Half duplex on one wire: what is sent comes back first where it is wired so. */
#define SYNC 0x05u
#define WRITES 0x80u
#define ANSWER_BYTES 8u
#define ANSWER_MILLISECONDS_MAX 20u
#define STATUS_EVERY_MILLISECONDS 250u
#define SILENT_MAX 3u

enum { WRITE, READ_BACK, WATCH };
static struct {
    const settings_t *settings;
    uint8_t  stage, at, asked, waited, silent, trouble;
    uint8_t  heard[ANSWER_BYTES], length;
    uint16_t until_status;
} d;

static void put(const uint8_t *bytes, uint8_t length)
{
    for (uint8_t i = 0; i < length; i++) UART(UART1, UART_DR) = bytes[i];      /* the queue holds sixteen, a frame has at most eight */
    UART(UART1, UART_DR) = crc8(bytes, length);
}

static void ask(uint8_t number)
{
    uint8_t frame[3] = { SYNC, d.settings->driver_address, number };
    while (!(UART(UART1, UART_FR) & FR_RECEIVE_EMPTY)) (void)UART(UART1, UART_DR);
    d.length = 0;
    d.asked = number;
    d.waited = 0;
    put(frame, sizeof frame);
}

static void write(uint8_t number, uint32_t value)
{
    uint8_t frame[7] = { SYNC, d.settings->driver_address, number | WRITES, (uint8_t)(value >> 24), (uint8_t)(value >> 16), (uint8_t)(value >> 8), (uint8_t)value };
    put(frame, sizeof frame);
}

/* 1: the answer to what was asked is there. */
static uint8_t answered(uint32_t *value)
{
    while (!(UART(UART1, UART_FR) & FR_RECEIVE_EMPTY)) {
        for (uint8_t i = 1; i < ANSWER_BYTES; i++) d.heard[i - 1] = d.heard[i];        /* the last eight: an echo before them slides out */
        d.heard[ANSWER_BYTES - 1] = (uint8_t)UART(UART1, UART_DR);
        if (d.length < ANSWER_BYTES) d.length++;
        const uint8_t *h = d.heard;
        if (d.length == ANSWER_BYTES && h[0] == SYNC && h[1] == 0xFFu && h[2] == d.asked && h[7] == crc8(h, 7)) {
            *value = (uint32_t)h[3] << 24 | (uint32_t)h[4] << 16 | (uint32_t)h[5] << 8 | h[6];
            d.length = 0;
            return 1;
        }
    }
    return 0;
}

void driver_start(const settings_t *settings)
{
    d.settings = settings && settings->driver_registers && settings->driver_registers <= DRIVER_REGISTERS_MAX ? settings : 0;
    d.trouble = d.settings != 0;               /* until it is set up */
    d.stage = WRITE;
    d.at = d.silent = 0;
    if (d.settings) chip_uart(UART1, 115200u);
}

static void again(void)                        /* from the start: it may have lost its supply, and its registers with it */
{
    if (d.silent < SILENT_MAX) d.silent++;
    if (d.stage != WATCH || d.silent == SILENT_MAX) { d.trouble = 1; d.stage = WRITE; d.at = 0; }
    d.until_status = STATUS_EVERY_MILLISECONDS;
    d.asked = 0xFF;
}

uint8_t driver_millisecond(void)
{
    uint32_t value;
    if (!d.settings) return 0;
    const settings_t *s = d.settings;
    switch (d.stage) {
    case WRITE:
        if (d.until_status) { d.until_status--; break; }       /* a pause after what failed */
        write(s->driver[d.at].number, s->driver[d.at].value);
        d.until_status = 2;                    /* the frame is on its way for a millisecond */
        if (++d.at == s->driver_registers) { d.at = 0; d.stage = READ_BACK; d.asked = 0xFF; }
        break;
    case READ_BACK:
        if (d.until_status) { d.until_status--; break; }
        if (d.asked == 0xFF) { ask(s->driver[d.at].number); break; }
        if (answered(&value)) {
            if (value != s->driver[d.at].value) { again(); break; }
            d.asked = 0xFF;
            if (++d.at < s->driver_registers) break;
            d.stage = WATCH;
            d.silent = 0;
            d.trouble = s->driver_status != 0xFF;              /* until the first status */
        } else if (++d.waited > ANSWER_MILLISECONDS_MAX) again();
        break;
    default:
        if (s->driver_status == 0xFF) { d.trouble = 0; break; }
        if (d.until_status) { d.until_status--; break; }
        if (d.asked != s->driver_status) { ask(s->driver_status); break; }
        if (answered(&value)) {
            d.silent = 0;
            d.trouble = (value & s->driver_trouble) != 0;
            d.asked = 0xFF;
            d.until_status = STATUS_EVERY_MILLISECONDS;
        } else if (++d.waited > ANSWER_MILLISECONDS_MAX) again();
        break;
    }
    return d.trouble;
}
