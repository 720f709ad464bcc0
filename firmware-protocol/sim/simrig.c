/* The real image in a simulated ATmega328P, with a rig around it. A program of its own: the simulator's library is under the GPL,
 * and nothing of it goes into what we ship. */
#define _GNU_SOURCE
#include <getopt.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include "board.h"

#define SLIP_SECONDS 0.05           /* a host that is later than this lets simulated time slip: it never catches up in a rush */

#define ALONE_SECONDS 60.0           /* lock step without anyone who leads is left behind by somebody */

static void on_signal(int s) { (void)s; control_quit = 1; }

static void log_warnings(avr_t *a, const int level, const char *format, va_list arguments)
{
    (void)a;
    if (level > LOG_WARNING) return;
    fputs("[simavr] ", stderr);
    vfprintf(stderr, format, arguments);
}

static double wall(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static void usage(void)
{
    fputs("simrig --elf FILE [--link PATH] [--control SOCKET] [--speed 1|0|-1] [--rate HERTZ] [--seconds S] [--check-baud]\n"
          "  speed 1: real time (default), 0: as fast as it can, -1: only when the control socket tells it\n", stderr);
    exit(2);
}

int main(int argc, char **argv)
{
    static const struct option options[] = { {"elf",1,0,'e'}, {"link",1,0,'l'}, {"control",1,0,'c'}, {"speed",1,0,'s'}, {"rate",1,0,'r'},
        {"seconds",1,0,'d'}, {"check-baud",0,0,'b'}, {0,0,0,0} };
    const char *elf = NULL, *link = NULL, *socket_path = NULL;
    double seconds = 0;
    for (int o; (o = getopt_long(argc, argv, "", options, NULL)) != -1; ) switch (o) {
        case 'e': elf = optarg; break;
        case 'l': link = optarg; break;
        case 'c': socket_path = optarg; break;
        case 's': control_speed = atof(optarg); break;
        case 'r': chip.rate_hertz = atof(optarg); break;
        case 'd': seconds = atof(optarg); break;
        case 'b': serial_check_baud(1); break;
        default: usage();
    }
    if (!elf) usage();
    signal(SIGINT, on_signal);
    signal(SIGTERM, on_signal);
    signal(SIGPIPE, SIG_IGN);
    avr_global_logger_set(log_warnings);
    board_start(elf);
    const char *pty = serial_start(link);
    if (socket_path) control_start(socket_path);
    printf("pty %s\n", pty);           /* both can be opened now */
    fflush(stdout);

    double began = wall(), due = began, last_speed = control_speed;
    while (!control_quit && (seconds <= 0 || board_seconds() < seconds)) {
        if (control_speed < 0) {
            control_pump(100);
            if (!control_seen && wall() - began > ALONE_SECONDS) { fputs("nobody leads: the end\n", stderr); return 4; }
            continue;
        }
        control_pump(0);
        if (!board_millisecond()) return 3;
        serial_pump();
        if (control_speed <= 0) continue;
        if (last_speed != control_speed) { last_speed = control_speed; due = wall(); }
        due += 0.001 / control_speed;
        double early = due - wall();
        if (early > 0) nanosleep(&(struct timespec){ (time_t)early, (long)((early - (double)(time_t)early) * 1e9) }, NULL);
        else if (early < -SLIP_SECONDS) due -= early;
    }
    char text[2048];
    report(text, sizeof text);
    fputs(text, stdout);
    return 0;
}
