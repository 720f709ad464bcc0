/* Only in the image for the simulator: a converter that is ready when its time comes, and gives what the world outside wrote. Its frame goes through the true
 * SPI, whose output is led back to its input, and its edge through the true interrupt. */
#include "chip.h"
#include "converter.h"
#include "crc8.h"

volatile int32_t simulated_counts = 84000;
volatile uint8_t simulated_status, simulated_dead, simulated_stuck, simulated_torn, simulated_starve;   /* starve: every so many conversions is left out; 0: none */
volatile uint8_t simulated_frame[5];
volatile int32_t simulated_position;           /* steps that the pins made since the power came, by the direction pin: what a screw would do */

void simulated_interrupt(void)
{
    REG(TIMER1 + TIMER_ICR) = 1u;
    if (simulated_dead) return;
    static uint8_t left_out;
    if (simulated_starve && ++left_out >= simulated_starve) { left_out = 0; return; }
    static uint32_t noise = 1;
    if (!simulated_stuck) noise = noise * 1664525u + 1013904223u;    /* the last bits of a true one never stand still */
    uint32_t counts = (uint32_t)simulated_counts + (noise >> 29);
    simulated_frame[0] = simulated_status;
    simulated_frame[1] = (uint8_t)(counts >> 16);
    simulated_frame[2] = (uint8_t)(counts >> 8);
    simulated_frame[3] = (uint8_t)counts;
    simulated_frame[4] = crc8(simulated_frame, 4) ^ simulated_torn;     /* torn: a wire that breaks in the middle of a frame */
    NVIC_PEND(IRQ_GPIO_B);
}
