/* The core on the bench as a device of its own, led in lock step a line at a time on standard input: `exchange MILLISECONDS HEX` gives it bytes,
 * lets time go by and prints what it sent; `guard 0` opens the guard, `guard 1` closes it; `converter 0` is dead, `stuck 1` repeats itself, `starve N`
 * leaves out every Nth conversion. What hosts and vectors are tried against. */
#include "bench.h"

static uint8_t sent[1u << 20];
static size_t sent_length;
static void keep_byte(uint8_t byte) { CHECK(sent_length < sizeof sent); sent[sent_length++] = byte; }

static int nibble(char c) { return c >= '0' && c <= '9' ? c - '0' : c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1; }

static void exchange(const char *line)
{
    unsigned milliseconds = 0;
    int at = 0;
    if (sscanf(line, "%u%n", &milliseconds, &at) != 1) { printf("error\n"); return; }
    for (line += at; *line == ' '; line++) { }
    for (; nibble(line[0]) >= 0 && nibble(line[1]) >= 0; line += 2) device_byte((uint8_t)(nibble(line[0]) << 4 | nibble(line[1])));
    bench_run(milliseconds);
    bench.count = 0;                           /* nobody looks at the frames here */
    printf("ok ");
    for (size_t i = 0; i < sent_length; i++) printf("%02X", sent[i]);
    printf("\n");
    sent_length = 0;
}

/* A thermometer that stands still. */
static int32_t degrees(void) { return 21 * 16; }
static const channel_t thermometer = {
    .kind = CHANNEL_TEMPERATURE, .divider = 8, .numerator = 1, .denominator = 16, .raw_min = -640, .raw_max = 2000, .resolution = 1,
    .value = degrees, .unit = "\xC2\xB0" "C", .name = "Bench",
};

int main(void)
{
    static char line[8192];
    bench_test = "led by a host";
    bench_hooks.from_device = keep_byte;
    bench_traits.channels = &thermometer;
    bench_traits.channel_count = 1;
    bench_clear_all();
    device_start(&bench_traits, bench.inputs, 0);
    unsigned every = bench.conversion_every;
    while (fgets(line, sizeof line, stdin)) {
        unsigned closed, value;
        if (!strncmp(line, "exchange ", 9)) exchange(line + 9);
        else if (sscanf(line, "guard %u", &closed) == 1) {
            bench.inputs = (uint8_t)(closed ? bench.inputs | INPUT_GUARD_CLOSED : bench.inputs & ~INPUT_GUARD_CLOSED);
            printf("ok\n");
        } else if (sscanf(line, "converter %u", &value) == 1) {
            bench.conversion_every = (uint16_t)(value ? every : 0);
            printf("ok\n");
        } else if (sscanf(line, "stuck %u", &value) == 1) {
            bench.frozen = value != 0;
            printf("ok\n");
        } else if (sscanf(line, "starve %u", &value) == 1) {
            bench.skip_each = (uint16_t)value;
            printf("ok\n");
        } else printf("error\n");
        fflush(stdout);
    }
    return 0;
}
