#include "chip.h"
#include "identity.h"

#define MIX 2654435761u           /* odd: every counter gives another number */
#define KEPT_MAGIC 0x424F4F54u

/* RAM that a reset leaves alone; after a loss of power it holds noise, which is as good. */
static struct { uint32_t magic, number; } kept __attribute__((section(".kept")));

/* The chip's own address, written where it was made. */
uint64_t identity_device(void) { return (uint64_t)USER1 << 32 | USER0; }

uint32_t identity_boot(void)
{
    uint32_t drawn = kept.number * MIX ^ (kept.magic == KEPT_MAGIC ? 0 : kept.magic);
    /* Two clocks against each other: how far the core's count gets until the timer's has gone on. A chip with a noise source or a counter that outlives the
     * power uses that. */
    SYSTICK_RELOAD = 0xFFFFFFu;
    SYSTICK_VALUE = 0;
    SYSTICK_CONTROL = 5u;
    for (uint8_t i = 0; i < 64; i++) {
        uint32_t before = REG(TIMER1 + 0x48u);
        for (uint8_t j = 0; j < 200 && REG(TIMER1 + 0x48u) == before; j++) { }
        drawn = (drawn ^ SYSTICK_VALUE ^ before) * MIX + (drawn >> 15);
    }
    SYSTICK_CONTROL = 0;
    if (!drawn || drawn == kept.number) drawn++;
    if (!drawn) drawn = MIX;
    kept.magic = KEPT_MAGIC;
    kept.number = drawn;
    return drawn;
}
