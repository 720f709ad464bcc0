#ifndef WITNESS_H
#define WITNESS_H
#include "bench.h"

/* Looks on from outside while a device is given anything at all, and aborts where PROTOCOL.md does not hold. It knows what went in (bytes,
 * inputs, conversions, time) and what came out (frames, steps, power), and hardly asks the core. */
void witness_start(void);           /* after device_start, also after a restart */
void witness_hooks(void);
#endif
