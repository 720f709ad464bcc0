#define _GNU_SOURCE
#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <time.h>
#include <unistd.h>
#include "board.h"

/* One command a line, one answer a line. README.md lists them. */
int control_quit, control_seen;
double control_speed = 1;
static int listener = -1, client = -1;
static char line[1 << 15];
static size_t line_length;
static uint8_t bytes[1 << 14];
static char answer[(1 << 15) + 64];

static double wall(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

int report(char *o, unsigned room)
{
    return snprintf(o, room,
        "{\"seconds\":%.6f,\"position\":%ld,\"powered\":%d,\"steps\":%lu,\"stepsWithoutPower\":%lu,\"lastStepSeconds\":%.6f,"
        "\"powerOffSeconds\":%.6f,\"stepHighMicrosecondsMin\":%.2f,\"stepGapMicrosecondsMin\":%.2f,\"resets\":%lu,"
        "\"force\":%.4f,\"peak\":%.4f,\"broken\":%d,\"conversions\":%lu,\"conversionsRead\":%lu,\"conversionsMissed\":%lu,"
        "\"clockHighMicrosecondsMax\":%.2f,\"powerDowns\":%lu,\"fromDevice\":%lu,\"toDevice\":%lu,\"lost\":%lu,"
        "\"idleShare\":%.3f,\"tickCyclesMean\":%.0f,\"tickCyclesMax\":%lu,\"ramNeverUsed\":%d}\n",
        board_seconds(), motor.position, motor.powered, motor.steps, motor.steps_without_power, motor.last_step_s, motor.power_off_s,
        motor.high_us_min, motor.gap_us_min, motor.resets, specimen_force(), specimen_peak(), specimen_broken(), chip.conversions, chip.read,
        chip.missed, chip.clock_high_us_max, chip.power_downs, serial_from_device, serial_to_device, serial_lost, board_idle_share(),
        board_tick_cycles_mean(), board_tick_cycles_max(), board_ram_never_used());
}

static int hex(const char *text)
{
    int n = 0;
    for (unsigned v; text[0] && text[1] && n < (int)sizeof bytes && sscanf(text, "%2x", &v) == 1; text += 2) bytes[n++] = (uint8_t)v;
    return n;
}

/* Lock step without a pty: gives bytes to the device, runs it, and answers with what it sent. */
static int exchange(int milliseconds, const char *host_bytes)
{
    serial_use_pty(0);
    serial_give(bytes, (unsigned)hex(host_bytes));
    while (milliseconds-- > 0) if (!board_millisecond()) { control_quit = 1; return snprintf(answer, sizeof answer, "error the image crashed\n"); }
    unsigned n = serial_collect(bytes, sizeof bytes);
    int at = snprintf(answer, sizeof answer, "ok ");
    for (unsigned i = 0; i < n; i++) at += snprintf(answer + at, sizeof answer - (size_t)at, "%02X", bytes[i]);
    return at + snprintf(answer + at, sizeof answer - (size_t)at, "\n");
}

/* Lock step over the pty: waits until so many bytes have come from the host in all, runs, and tells how many it has sent in all. */
static int advance(int milliseconds, unsigned long host_total)
{
    double end = wall() + 2;
    while (serial_to_device < host_total && wall() < end) { serial_pump(); board_millisecond(); milliseconds--; }
    if (serial_to_device < host_total) return snprintf(answer, sizeof answer, "error only %lu bytes came from the host\n", serial_to_device);
    while (milliseconds-- > 0) { if (!board_millisecond()) control_quit = 1; serial_pump(); }
    return snprintf(answer, sizeof answer, "ok %lu\n", serial_from_device);
}

static int obey(const char *l)
{
    double a, b, c;
    int v, on, off, at = 0;
    unsigned long total;
    char name[8];
    if (sscanf(l, "guard %d", &v) == 1) board_input(INPUT_GUARD, !v);                    /* 1: closed */
    else if (sscanf(l, "estop %d", &v) == 1) board_input(INPUT_EMERGENCY_STOP, v);       /* 1: pressed */
    else if (sscanf(l, "upper %d", &v) == 1) board_input(INPUT_UPPER_LIMIT, v);          /* 1: reached */
    else if (sscanf(l, "driver %d", &v) == 1) board_input(INPUT_DRIVER, !v);             /* 1: reports a fault */
    else if (sscanf(l, "specimen %lf %lf %lf", &a, &b, &c) == 3) specimen_load(a, b, c);
    else if (sscanf(l, "weight %lf", &a) == 1) specimen_weight(a);
    else if (sscanf(l, "converter %d", &v) == 1) chip.on = v;
    else if (sscanf(l, "stuck %d", &v) == 1) chip.stuck = v;
    else if (sscanf(l, "low %d", &v) == 1) chip_low(v);
    else if (sscanf(l, "starve %d", &v) == 1) chip.starve = v;
    else if (sscanf(l, "rate %lf", &a) == 1) chip.rate_hertz = a;
    else if (sscanf(l, "lower %d", &v) == 1) { motor.lower_switch = v; board_switches(); }
    else if (sscanf(l, "swapped %d", &v) == 1) motor.swapped = v;
    else if (sscanf(l, "chatter %7s %d %d", name, &on, &off) == 3) {
        static const char *const names[INPUTS] = { "guard", "estop", "lower", "upper", "driver" };
        for (v = 0; v < INPUTS && strcmp(name, names[v]); v++) { }
        if (v == INPUTS || on < 0 || off < 10) return snprintf(answer, sizeof answer, "error %.100s\n", l);
        board_chatter(v, on, off);
    }
    else if (sscanf(l, "exchange %d %n", &v, &at) == 1 && at) return exchange(v, l + at);
    else if (sscanf(l, "advance %d %lu", &v, &total) == 2) return advance(v, total);
    else if (sscanf(l, "speed %lf", &a) == 1) control_speed = a;
    else if (!strcmp(l, "hang")) board_hang(0);
    else if (!strcmp(l, "hang all")) board_hang(1);
    else if (!strcmp(l, "get")) return report(answer, sizeof answer);
    else if (!strcmp(l, "quit")) control_quit = 1;
    else return snprintf(answer, sizeof answer, "error %.100s\n", l);
    return snprintf(answer, sizeof answer, "ok\n");
}

void control_start(const char *path)
{
    struct sockaddr_un address = { .sun_family = AF_UNIX };
    snprintf(address.sun_path, sizeof address.sun_path, "%s", path);
    unlink(path);
    listener = socket(AF_UNIX, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, 0);
    if (bind(listener, (struct sockaddr *)&address, sizeof address) || listen(listener, 1)) { perror(path); exit(1); }
}

void control_pump(int wait_milliseconds)
{
    if (listener < 0) return;
    struct pollfd p = { .fd = client >= 0 ? client : listener, .events = POLLIN };
    if (poll(&p, 1, wait_milliseconds) <= 0) return;
    if (client < 0) { client = accept4(listener, NULL, NULL, SOCK_NONBLOCK | SOCK_CLOEXEC); line_length = 0; control_seen |= client >= 0; return; }
    ssize_t n = recv(client, line + line_length, sizeof line - 1 - line_length, 0);
    if (n < 0 && errno == EAGAIN) return;
    if (n <= 0) { close(client); client = -1; control_quit = 1; return; }      /* whoever started it is gone */
    line_length += (size_t)n;
    line[line_length] = 0;
    for (char *end; (end = strchr(line, '\n')); ) {
        *end = 0;
        int length = obey(line);
        for (int sent = 0; sent < length; ) {
            ssize_t k = send(client, answer + sent, (size_t)(length - sent), MSG_NOSIGNAL);
            if (k < 0 && errno != EAGAIN) { control_quit = 1; return; }
            if (k > 0) sent += (int)k;
        }
        line_length -= (size_t)(end + 1 - line);
        memmove(line, end + 1, line_length + 1);
    }
    if (line_length == sizeof line - 1) line_length = 0;       /* no command is that long */
}
