/* The fuzzer's target without clang:
 *     fuzz_device replay FILE...        runs each input of files that hold one a line, in hexadecimal; # begins a comment
 *     fuzz_device random SECONDS SEED   random conversations that mean something
 *     fuzz_device show SEED             prints the one that a failed check named
 *     fuzz_device unpack FILE DIR       writes the file's inputs into a folder, for libFuzzer
 *     fuzz_device pack FILE...          prints inputs as such lines */
#include <time.h>
#include "bench.h"
#include "fuzz_device.h"

#define INPUT_MAX 4096u

static uint32_t random_state;
static uint32_t random_next(void)
{
    random_state ^= random_state << 13; random_state ^= random_state >> 17; random_state ^= random_state << 5;
    return random_state;
}
static uint8_t random_byte(void)      { return (uint8_t)(random_next() >> 11); }
static uint8_t rarely(unsigned times) { return random_next() % times == 0; }

static uint8_t *op(uint8_t *p, unsigned what, unsigned n) { *p++ = (uint8_t)(what | n << 3); return p; }

/* A host that knows its trade most of the time, and a world that does not. */
static size_t converse(uint8_t *out, size_t room)
{
    static const uint8_t often[] = { FUZZ_MOVE, FUZZ_MOVE, FUZZ_MOVE, FUZZ_CLEAR, FUZZ_STOP, FUZZ_HOME, FUZZ_INPUTS, FUZZ_COUNTS, FUZZ_WILD,
                                     FUZZ_LIMITS, FUZZ_ACKNOWLEDGE, FUZZ_SPRING, FUZZ_STREAM, FUZZ_ROOM, FUZZ_KEEP_ALIVE, FUZZ_TIME, FUZZ_FEED,
                                     FUZZ_CHATTER, FUZZ_RELEASE, FUZZ_RELEASE };
    uint8_t *p = out;
    *p++ = rarely(4) ? random_byte() : rarely(2) ? 4 : 0;
    p = op(p, FUZZ_WORLD, FUZZ_KEEP_ALIVE); *p++ = 1;
    p = op(p, FUZZ_WORLD, FUZZ_STREAM); *p++ = 1;
    p = op(p, FUZZ_RUN_LONG, 2);
    if (rarely(2)) { p = op(p, FUZZ_WORLD, FUZZ_LOWER); put16(p, (uint16_t)-random_byte()); p += 2; }
    p = op(p, FUZZ_WORLD, FUZZ_LIMITS); *p++ = 6; *p++ = 200; *p++ = 200; *p++ = 0; *p++ = 0x80;
    while ((size_t)(p - out) + 64 < room && !rarely(40)) {
        if (rarely(3)) p = op(p, FUZZ_RUN_LONG, random_byte() & 15); else p = op(p, FUZZ_RUN, random_byte() & 31);
        if (rarely(16)) {                      /* an honest motion, or one for another start */
            if (rarely(2)) p = op(p, FUZZ_WORLD, FUZZ_STALE);
            p = op(p, FUZZ_HONEST, 13);
            *p++ = MSG_MOVE & 0x0F;
            *p++ = 0; put32(put32(p, 200 + random_byte()), 20000); p += 8;
            put32(p, 0); p += 4;
            continue;
        }
        if (rarely(8)) {
            unsigned n = random_byte() & 31, kind = random_next() % 3;
            p = op(p, kind == 0 ? FUZZ_RAW : kind == 1 ? FUZZ_FRAMED : FUZZ_HONEST, n);
            for (n += 2; n--; ) *p++ = rarely(4) ? 0 : random_byte();
            continue;
        }
        unsigned what = rarely(12) ? random_next() % 28 : often[random_next() % sizeof often];
        p = op(p, FUZZ_WORLD, what);
        if (what == FUZZ_INPUTS) *p++ = rarely(3) ? random_byte() : BENCH_INPUTS_GOOD;
        else if (what == FUZZ_KEEP_ALIVE) *p++ = !rarely(3);
        else for (unsigned n = what == FUZZ_LIMITS || what == FUZZ_MOVE ? 5 : what == FUZZ_CHATTER ? 3 : what == FUZZ_RELEASE ? 1 : what == FUZZ_CLEAR || what == FUZZ_ACKNOWLEDGE || what == FUZZ_FEED ? 0 : 2; n--; ) *p++ = random_byte();
    }
    if (rarely(4)) for (uint8_t *q = out; q < p; q++) if (rarely(50)) *q = random_byte();
    return (size_t)(p - out);
}

static int random_for(int seconds, uint32_t seed)
{
    time_t end = time(NULL) + seconds;
    unsigned long runs = 0, moved = 0;
    static uint8_t data[INPUT_MAX];
    static char name[40];
    do {
        random_state = seed + (uint32_t)runs * 2654435761u;
        if (!random_state) random_state = 1;
        uint32_t from = random_state;
        size_t n = converse(data, sizeof data);
        snprintf(name, sizeof name, "fuzz_device show %u", from);
        bench_test = name;
        LLVMFuzzerTestOneInput(data, n);
        moved += bench.steps != 0;
        runs++;
    } while (time(NULL) < end);
    printf("ok fuzz: %lu conversations from seed %u, %lu of them moved, %u checks\n", runs, seed, moved, bench_checks);
    return 0;
}

static void show(const uint8_t *data, size_t size)
{
    while (size--) printf("%02X", *data++);
    printf("\n");
}

/* Each input of a file of hexadecimal lines, to `each`. Returns how many, or -1. */
static int lines(const char *path, void (*each)(const uint8_t *data, size_t size, int number))
{
    static char line[2 * INPUT_MAX + 2];
    static uint8_t data[INPUT_MAX];
    static char name[300];
    int number = 0, count = 0;
    FILE *file = fopen(path, "r");
    if (!file) { perror(path); return -1; }
    while (fgets(line, sizeof line, file)) {
        size_t size = 0;
        unsigned value;
        number++;
        for (char *p = line; sscanf(p, "%2x", &value) == 1; p += 2) data[size++] = (uint8_t)value;
        if (!size) continue;
        snprintf(name, sizeof name, "%s:%d", path, number);
        bench_test = name;
        each(data, size, number);
        count++;
    }
    fclose(file);
    return count;
}

static void replay(const uint8_t *data, size_t size, int number) { (void)number; LLVMFuzzerTestOneInput(data, size); }

static const char *folder, *source;
static void unpack(const uint8_t *data, size_t size, int number)
{
    char path[400];
    const char *name = strrchr(source, '/');
    snprintf(path, sizeof path, "%s/%s-%05d", folder, name ? name + 1 : source, number);
    FILE *file = fopen(path, "wb");
    if (!file || fwrite(data, 1, size, file) != size || fclose(file)) { perror(path); exit(1); }
}

static int pack(const char *path)
{
    static uint8_t data[INPUT_MAX];
    FILE *file = fopen(path, "rb");
    if (!file) { perror(path); return 1; }
    show(data, fread(data, 1, sizeof data, file));
    fclose(file);
    return 0;
}

int main(int argc, char **argv)
{
    const char *what = argc > 2 ? argv[1] : "";
    if (!strcmp(what, "random")) return random_for(atoi(argv[2]), argc > 3 ? (uint32_t)strtoul(argv[3], NULL, 0) : 1);
    if (!strcmp(what, "show")) {
        static uint8_t data[INPUT_MAX];
        random_state = (uint32_t)strtoul(argv[2], NULL, 0);
        show(data, converse(data, sizeof data));
        return 0;
    }
    if (!strcmp(what, "pack")) { int bad = 0; for (int i = 2; i < argc; i++) bad |= pack(argv[i]); return bad; }
    if (!strcmp(what, "unpack") && argc > 3) { source = argv[2]; folder = argv[3]; return lines(argv[2], unpack) < 0; }
    if (!strcmp(what, "replay")) {
        int all = 0;
        for (int i = 2; i < argc; i++) {
            int n = lines(argv[i], replay);
            if (n < 0) return 1;
            all += n;
        }
        printf("ok replay: %d inputs, %u checks\n", all, bench_checks);
        return 0;
    }
    fprintf(stderr, "replay FILE... | random SECONDS SEED | show SEED | unpack FILE DIR | pack FILE...\n");
    return 2;
}
