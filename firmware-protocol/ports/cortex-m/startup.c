/* From reset to main, and the table of interrupts. */
#include "chip.h"

extern uint32_t stack_top, data_from, data_start, data_end, bss_start, bss_end;
int main(void);
void tick_interrupt(void);
void serial_interrupt(void);
void converter_interrupt(void);
__attribute__((weak)) void simulated_interrupt(void) { REG(TIMER1 + TIMER_ICR) = 1u; }

void reset(void);
void reset(void)
{
    for (uint32_t *to = &data_start, *from = &data_from; to < &data_end; ) *to++ = *from++;
    for (uint32_t *to = &bss_start; to < &bss_end; ) *to++ = 0;
    (void)main();
    for (;;) { }
}

/* A fault of the program: it stands until the watchdog comes, which cuts the motor by the reset's pins. */
static void stand(void) { for (;;) { } }

__attribute__((section(".vectors"), used)) static void (*const vectors[16 + 44])(void) = {
    [0] = (void (*)(void))&stack_top, [1] = reset, [2] = stand, [3] = stand, [4] = stand, [5] = stand, [6] = stand, [11] = stand, [14] = stand, [15] = stand,
    [16 + IRQ_GPIO_B] = converter_interrupt, [16 + IRQ_UART0] = serial_interrupt, [16 + IRQ_TIMER0] = tick_interrupt,
    [16 + IRQ_TIMER1] = simulated_interrupt,
};
