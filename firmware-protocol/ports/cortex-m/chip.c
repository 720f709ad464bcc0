#include "chip.h"

#define PLL_LOCKED (1u << 6)

void chip_start(void)
{
    enum { BYPASS = 1 << 11, USE_DIVIDER = 1 << 22, POWER_DOWN = 1 << 13, CRYSTAL_8_MHZ = 0xE << 6 };
    RCC = (RCC | BYPASS) & ~(uint32_t)USE_DIVIDER;
    RCC = BYPASS | CRYSTAL_8_MHZ | 3u << 23;   /* 200 MHz / 4; the PLL has power */
    for (uint32_t i = 0; i < 100000u && !(RIS & PLL_LOCKED); i++) { }
    RCC = CRYSTAL_8_MHZ | 3u << 23 | USE_DIVIDER;
    RCGC0 |= 1u << 3;                          /* watchdog */
    RCGC1 |= 3u | 1u << 4 | 3u << 16;          /* UART 0 and 1, SSI, timers 0 and 1 */
    RCGC2 |= 7u;                               /* ports A, B, C */
    for (volatile int i = 0; i < 16; i++) { }  /* a few cycles until they answer */
}

void chip_uart(uint32_t base, uint32_t baud)
{
    uint32_t sixty_fourths = (CPU_HERTZ * 4u + baud / 2u) / baud;
    UART(base, UART_CTL) = 0;
    UART(base, UART_IBRD) = sixty_fourths / 64u;
    UART(base, UART_FBRD) = sixty_fourths % 64u;
    UART(base, UART_LCRH) = 3u << 5 | 1u << 4;             /* 8 bits, no parity, 1 stop bit, its queues on */
    UART(base, UART_CTL) = 3u << 8 | 1u;
}

void chip_timer(uint32_t base, uint32_t hertz)
{
    REG(base + TIMER_CTL) = 0;
    REG(base + TIMER_CFG) = 0;                 /* 32 bits */
    REG(base + TIMER_MODE) = 2u;               /* over and over */
    REG(base + TIMER_LOAD) = CPU_HERTZ / hertz - 1u;
    REG(base + TIMER_IM) = 1u;
    REG(base + TIMER_CTL) = 1u;
}
