#include "chip.h"
#include "converter.h"
#include "crc8.h"
#include "device.h"
#include "pins.h"
#include "port.h"

/* One frame: status, three bytes of counts (two's complement, the highest first), CRC-8 over the four. Many converters of this kind can send that; one without
 * a checksum sends four bytes, and a wire that breaks is then seen by the core alone (counts that never change, or stand at an end). */
#define FRAME_BYTES 5u
enum { STATUS_OLD = 1 << 7, STATUS_OVER_RANGE = 1 << 6, STATUS_REFERENCE_LOW = 1 << 5 };

static volatile uint8_t ready;
static volatile uint32_t ready_at;
static volatile int32_t ready_position;

void converter_interrupt(void)
{
    GPIO(GPIO_B, GPIO_ICR) = CONVERTER_READY;
    if (ready) return;                         /* the one before was not read yet: it is the newer one's bits then, under its stamp */
    ready_at = port_microseconds();
    ready_position = stepper.position;
    ready = 1;
}

void converter_pins_start(void)
{
    REG(SSI + SSI_CR1) = 0;
    REG(SSI + SSI_CPSR) = 50u;                 /* 1 MHz */
    REG(SSI + SSI_CR0) = 1u << 7 | 7u;         /* 8 bits, sampled at the second edge */
#ifdef SIMULATED_CONVERTER
    REG(SSI + SSI_CR1) = 1u;                   /* what is sent comes back: the simulated converter speaks through the true SPI */
#endif
    REG(SSI + SSI_CR1) |= 2u;
    GPIO(GPIO_B, GPIO_IS) &= ~(uint32_t)CONVERTER_READY;
    GPIO(GPIO_B, GPIO_IBE) &= ~(uint32_t)CONVERTER_READY;
    GPIO(GPIO_B, GPIO_IEV) &= ~(uint32_t)CONVERTER_READY;
    GPIO(GPIO_B, GPIO_ICR) = CONVERTER_READY;
    GPIO(GPIO_B, GPIO_IM) |= CONVERTER_READY;
    NVIC_PRIORITY(IRQ_GPIO_B, 1);
    NVIC_ENABLE(IRQ_GPIO_B);
#ifdef SIMULATED_CONVERTER
    NVIC_PRIORITY(IRQ_TIMER1, 1);
    NVIC_ENABLE(IRQ_TIMER1);
#endif
}

void spi_exchange(const uint8_t *out, uint8_t *in, uint8_t length)
{
    while (REG(SSI + SSI_SR) & 1u << 2) (void)REG(SSI + SSI_DR);
    for (uint8_t i = 0; i < length; i++) {     /* the queue holds eight */
        REG(SSI + SSI_DR) = out[i];
        for (uint16_t waited = 0; !(REG(SSI + SSI_SR) & 1u << 2) && waited < 5000u; waited++) { }
        in[i] = (uint8_t)REG(SSI + SSI_DR);
    }
}

#ifdef SIMULATED_CONVERTER
extern volatile uint8_t simulated_frame[FRAME_BYTES];
#endif

uint8_t converter_read(int32_t sign, int32_t *counts, uint32_t *stamp, int32_t *position)
{
    if (!ready) return CONVERTER_NOTHING;
    *stamp = ready_at;                         /* stable while ready is set */
    *position = ready_position;
    uint8_t out[FRAME_BYTES] = { 0 }, in[FRAME_BYTES];
#ifdef SIMULATED_CONVERTER
    for (uint8_t i = 0; i < FRAME_BYTES; i++) out[i] = simulated_frame[i];
#endif
    spi_exchange(out, in, FRAME_BYTES);
    ready = 0;
    if (crc8(in, 4) != in[4] || in[0] & (STATUS_OLD | STATUS_REFERENCE_LOW)) return CONVERTER_WRONG;
    int32_t value = (int32_t)((uint32_t)in[1] << 24 | (uint32_t)in[2] << 16 | (uint32_t)in[3] << 8) >> 8;
    if (in[0] & STATUS_OVER_RANGE) value = value < 0 ? COUNTS_MIN : COUNTS_MAX;
    *counts = sign < 0 ? -value : value;
    if (*counts > COUNTS_MAX) *counts = COUNTS_MAX;
    return CONVERTER_READ;
}
