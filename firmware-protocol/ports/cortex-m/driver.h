#ifndef RIG_DRIVER_H
#define RIG_DRIVER_H
#include "settings.h"

/* The step driver's own set-up over a second line: current, microsteps, mode are written at the start and read back, and its status is asked four times a second. What
 * does not come back as written, says that it lost steps or is hot, or says nothing, is a driver's fault: the core takes the power, and what is lost in motion
 * un-homes. */
void    driver_start(const settings_t *settings);
/* Once a millisecond; never waits. Returns 1 while the driver is in trouble, or not set up yet. */
uint8_t driver_millisecond(void);
#endif
