/* A poll loop without a runtime: reads the wire's blocks from a terminal, finds the break as the daemon's detector does (below two
 * fifths of the greatest force, a settling window waited out, one sample more because of spikes) and writes a stop. Nothing else.
 *
 *     poll_loop TERMINAL STOP-FRAME-AS-HEX
 */
#include <fcntl.h>
#include <poll.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

enum { HEAD = 34, SETTLING_US = 250000, ZERO = 41830, CONTACT = 400 };

static uint16_t crc16(const uint8_t *bytes, int count)
{
    uint16_t crc = 0xFFFF;
    for (int i = 0; i < count; i++) {
        crc ^= (uint16_t)(bytes[i] << 8);
        for (int bit = 0; bit < 8; bit++) crc = (uint16_t)(crc & 0x8000 ? (crc << 1) ^ 0x1021 : crc << 1);
    }
    return crc;
}

static int unstuff(const uint8_t *in, int count, uint8_t *out)
{
    int at = 0, written = 0;
    while (at < count) {
        int code = in[at++];
        for (int i = 1; i < code && at < count; i++) out[written++] = in[at++];
        if (code < 255 && at < count) out[written++] = 0;
    }
    return written;
}

static uint32_t u32(const uint8_t *b) { return b[0] | b[1] << 8 | b[2] << 16 | (uint32_t)b[3] << 24; }

/* Whether a block decides. */
static int decides(const uint8_t *payload)
{
    static int32_t greatest;
    static uint32_t fell;
    static int falling, late;
    uint32_t stamp = u32(payload + 21), period = u32(payload + 25) / 1000;
    for (int i = 0; i < payload[HEAD - 1]; i++) {
        const uint8_t *sample = payload + HEAD + 5 * i;
        int32_t force = (sample[0] | sample[1] << 8 | (int8_t)sample[2] * 65536) - ZERO;
        uint32_t now = stamp + (uint32_t)i * period;
        if (late) {
            late = falling = 0;
            greatest = 0;
            return 1;
        }
        if (force > greatest) greatest = force;
        if (!falling && greatest > CONTACT && force < greatest * 2 / 5) {
            falling = 1;
            fell = now;
        }
        if (falling && now - fell >= SETTLING_US) late = 1;
    }
    return 0;
}

int main(int count, char **arguments)
{
    if (count != 3) return 2;
    uint8_t stop[64], in[4096], frame[512], payload[512];
    int stop_bytes = 0, gathered = 0;
    for (const char *digit = arguments[2]; digit[0] && digit[1] && stop_bytes < 64; digit += 2) {
        char two[3] = { digit[0], digit[1], 0 };
        stop[stop_bytes++] = (uint8_t)strtol(two, 0, 16);
    }
    int port = open(arguments[1], O_RDWR | O_NOCTTY | O_NONBLOCK);
    if (port < 0) return 1;
    struct termios settings;
    tcgetattr(port, &settings);
    cfmakeraw(&settings);
    tcsetattr(port, TCSANOW, &settings);
    struct pollfd wait = { .fd = port, .events = POLLIN };
    while (poll(&wait, 1, -1) >= 0) {
        ssize_t got = read(port, in, sizeof in);
        if (got == 0 || wait.revents & POLLHUP) break;
        for (ssize_t i = 0; i < got; i++) {
            if (in[i]) {
                if (gathered < (int)sizeof frame) frame[gathered++] = in[i];
                continue;
            }
            int length = unstuff(frame, gathered, payload) - 2;
            gathered = 0;
            if (length < HEAD || payload[0] != 2 || crc16(payload, length) != (payload[length] | payload[length + 1] << 8)) continue;
            if (decides(payload) && write(port, stop, (size_t)stop_bytes) != stop_bytes) return 1;
        }
    }
    return 0;
}
