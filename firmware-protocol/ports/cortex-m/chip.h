#ifndef RIG_CHIP_H
#define RIG_CHIP_H
#include <stdint.h>

/* What this port knows of its chip: an LM3S6965 (Cortex-M3), for its data sheet is open and its pins, timers, UARTs and SPI run in Debian's qemu.
 * Another Cortex-M wants another chip.h, and chip.c beside it: nothing else names a register. */
#define REG(address) (*(volatile uint32_t *)(address))

#define CPU_HERTZ 50000000u

enum { IRQ_GPIO_B = 1, IRQ_UART0 = 5, IRQ_TIMER0 = 19, IRQ_TIMER1 = 21 };

#define NVIC_ENABLE(irq)  (REG(0xE000E100u + 4u * ((irq) / 32u)) = 1u << ((irq) % 32u))
#define NVIC_PEND(irq)    (REG(0xE000E200u + 4u * ((irq) / 32u)) = 1u << ((irq) % 32u))
#define NVIC_PRIORITY(irq, p) (*(volatile uint8_t *)(0xE000E400u + (irq)) = (uint8_t)((p) << 5))
#define SYSTICK_CONTROL   REG(0xE000E010u)
#define SYSTICK_RELOAD    REG(0xE000E014u)
#define SYSTICK_VALUE     REG(0xE000E018u)

#define RCGC0   REG(0x400FE100u)
#define RCGC1   REG(0x400FE104u)
#define RCGC2   REG(0x400FE108u)
#define RIS     REG(0x400FE050u)
#define RESC    REG(0x400FE05Cu)
#define RCC     REG(0x400FE060u)
#define USER0   REG(0x400FE1E0u)     /* written once by who sells the chip: the lower and upper half of a unique address */
#define USER1   REG(0x400FE1E4u)
enum { RESC_POWER_ON = 1 << 1, RESC_BROWN_OUT = 1 << 2, RESC_WATCHDOG = 1 << 3 };

/* Pins: a port's data register answers only for the bits that its address names. */
#define GPIO_B  0x40005000u
#define GPIO_C  0x40006000u
#define GPIO_DATA(port, bits) REG((port) + 4u * (bits))
#define GPIO(port, offset)    REG((port) + (offset))
enum { GPIO_DIR = 0x400, GPIO_IS = 0x404, GPIO_IBE = 0x408, GPIO_IEV = 0x40C, GPIO_IM = 0x410, GPIO_ICR = 0x41C, GPIO_PUR = 0x510, GPIO_DEN = 0x51C };

#define UART0   0x4000C000u
#define UART1   0x4000D000u
#define UART(base, offset) REG((base) + (offset))
enum { UART_DR = 0, UART_FR = 0x18, UART_IBRD = 0x24, UART_FBRD = 0x28, UART_LCRH = 0x2C, UART_CTL = 0x30, UART_IM = 0x38, UART_ICR = 0x44 };
enum { FR_RECEIVE_EMPTY = 1 << 4, FR_TRANSMIT_FULL = 1 << 5 };

#define SSI     0x40008000u
enum { SSI_CR0 = 0, SSI_CR1 = 4, SSI_DR = 8, SSI_SR = 0x0C, SSI_CPSR = 0x10 };

#define TIMER0  0x40030000u
#define TIMER1  0x40031000u
enum { TIMER_CFG = 0, TIMER_MODE = 4, TIMER_CTL = 0x0C, TIMER_IM = 0x18, TIMER_ICR = 0x24, TIMER_LOAD = 0x28 };

#define WATCHDOG_LOAD    REG(0x40000000u)
#define WATCHDOG_CONTROL REG(0x40000008u)
#define WATCHDOG_CLEAR   REG(0x4000000Cu)

/* The clock at CPU_HERTZ, and the parts of the chip that this port uses. */
void chip_start(void);
void chip_uart(uint32_t base, uint32_t baud);
/* Interrupts `hertz` times a second, from a timer of its own. */
void chip_timer(uint32_t base, uint32_t hertz);
#endif
