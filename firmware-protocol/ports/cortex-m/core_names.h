#ifndef RIG_CORE_NAMES_H
#define RIG_CORE_NAMES_H
#include "device.h"

/* Two names of the core are changing; this port takes it either way. */
#if __has_include("supervisor.h")
#define TRAITS_OF_THE_DRIVE(s) (traits.screw_needs_power = (s)->screw_needs_power, traits.closed_loop = (s)->closed_loop)
#else
#define stepper (device.stepper)
#define TRAITS_OF_THE_DRIVE(s) ((void)(s))
enum { START_BY_WATCHDOG = 1, START_BROWN_OUT = 0, START_POWER_ON = 0 };
#endif
#endif
