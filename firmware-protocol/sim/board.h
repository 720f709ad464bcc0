#ifndef SIM_BOARD_H
#define SIM_BOARD_H
#include <stdint.h>
#include "sim_avr.h"

/* The board with the real image on it: pins, converter, motor, specimen. One file a part, one board a program. */
#define F_CPU 16000000.0
#define CYCLES_PER_MILLISECOND 16000u
#define STEPS_PER_MILLIMETRE 400.0

extern avr_t *avr;

/* ---- board.c ---- */
enum { INPUT_GUARD, INPUT_EMERGENCY_STOP, INPUT_LOWER_LIMIT, INPUT_UPPER_LIMIT, INPUT_DRIVER, INPUTS };
typedef struct {
    long position;                  /* steps from where it was switched on */
    int  direction, powered;
    unsigned long steps, steps_without_power, resets;
    double last_step_s, power_off_s, high_us_min, gap_us_min;
    long lower_switch;              /* closes at and below this position */
    int  swapped;                   /* the motor's leads: it runs the other way */
} motor_t;
extern motor_t motor;
void board_start(const char *elf);
/* Runs the image for a millisecond. Returns 0 when it has crashed. */
int  board_millisecond(void);
/* The input goes over to its other level for `on` of every `on + off` microseconds; on 0 ends it. */
void board_chatter(int input, int on, int off);
void board_input(int input, int level);         /* 1: open, pressed, reached (the contact is normally closed to ground); the driver's is low at a fault */
void board_switches(void);                      /* the lower limit's switch, after the crosshead or the switch has moved */
void board_hang(int interrupts_too);            /* the program runs in a circle */
double board_seconds(void);
double board_idle_share(void);
unsigned long board_tick_cycles_max(void);
double board_tick_cycles_mean(void);
int  board_ram_never_used(void);
void drive_pin(char port, int pin, int level);

/* ---- specimen.c: what the cell feels ---- */
void   specimen_load(double stiffness_newtons_per_millimetre, double slack_millimetres, double break_newtons);
void   specimen_weight(double newtons);         /* hangs on the cell, specimen or not */
double specimen_force(void);
double specimen_peak(void);
int    specimen_broken(void);

/* ---- converter_chip.c: a 24-bit converter on two pins ---- */
typedef struct {
    double rate_hertz, counts_per_newton, zero_counts;
    int    on, noise, stuck;
    int    low;                     /* the data line sits low: shorted, or the converter has no supply */
    int    starve;                  /* every so many conversions does not come; 0: none */
    unsigned long conversions, read, missed, power_downs;
    double clock_high_us_max;
} converter_chip_t;
extern converter_chip_t chip;
void chip_start(void);
void chip_after_reset(void);
void chip_low(int low);

/* ---- serial.c: the UART, on a pty or in the hands of the control socket ---- */
extern unsigned long serial_from_device, serial_to_device, serial_lost;
const char *serial_start(const char *link);
void serial_after_reset(void);
void serial_pump(void);                         /* the pty, once a millisecond */
void serial_give(const uint8_t *bytes, unsigned length);
unsigned serial_collect(uint8_t *bytes, unsigned room);
void serial_check_baud(int on);                 /* a host at another rate reads and writes garbage, as on a wire */
void serial_use_pty(int on);

/* ---- control.c ---- */
void control_start(const char *path);
/* Waits up to `wait_milliseconds` for a command and obeys it. */
void control_pump(int wait_milliseconds);
extern int control_quit, control_seen;          /* seen: somebody has connected */
extern double control_speed;                    /* 1: real time; 0: as fast as it can; -1: only when told */
int  report(char *out, unsigned room);
#endif
