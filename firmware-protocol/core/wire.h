#ifndef RIG_WIRE_H
#define RIG_WIRE_H
#include <stdint.h>

/* The numbers of PROTOCOL.md, 3 to 6 and 10. */
#define WIRE_VERSION_MAJOR 1u
#define WIRE_VERSION_MINOR 2u

enum { /* types */
    MSG_HELLO = 0x01, MSG_SAMPLES = 0x02, MSG_EVENT = 0x03, MSG_ANSWER = 0x04, MSG_CHANNEL_DESCRIPTION = 0x05, MSG_CHANNEL_SAMPLES = 0x06,
    MSG_ASK_HELLO = 0x41, MSG_KEEP_ALIVE = 0x42, MSG_SET_LIMITS = 0x43, MSG_MOVE = 0x44, MSG_STOP = 0x45, MSG_HOME = 0x46,
    MSG_ACKNOWLEDGE_EVENT = 0x47, MSG_CLEAR_FAULTS = 0x48, MSG_FEED = 0x49, MSG_STREAM = 0x4A, MSG_CHANNEL = 0x4B,
    MSG_COMMAND_FIRST = 0x40, MSG_COMMAND_LAST = 0x6F
};

enum { /* capabilities */
    CAN_MOTION = 1 << 0, CAN_POSITION = 1 << 1, CAN_GUARD = 1 << 2, CAN_EMERGENCY_STOP = 1 << 3, CAN_TRAVEL_LIMITS = 1 << 4,
    CAN_HOMING = 1 << 5, CAN_FEEDER = 1 << 6, CAN_RATE_SELECTABLE = 1 << 7, CAN_SIMULATED = 1 << 8, CAN_CHANNELS = 1 << 9, CAN_RELEASE = 1 << 10
};

enum { /* inputs, as in a block */
    INPUT_GUARD_CLOSED = 1 << 0, INPUT_EMERGENCY_STOP_RELEASED = 1 << 1, INPUT_LOWER_LIMIT = 1 << 2, INPUT_UPPER_LIMIT = 1 << 3,
    INPUT_CONVERTER_ALIVE = 1 << 4, INPUT_SPECIMEN_LOADED = 1 << 5, INPUT_FEEDER_EMPTY = 1 << 6
};

enum { STATE_HOMED = 1 << 0, STATE_MOTOR_POWERED = 1 << 1, STATE_BLOCKS_DROPPED = 1 << 2 };

enum { MOTION_STILL, MOTION_MOVING, MOTION_STOPPING, MOTION_HOMING, MOTION_FEEDING };

enum { /* faults */
    FAULT_KEEP_ALIVE = 1 << 0, FAULT_GUARD = 1 << 1, FAULT_EMERGENCY_STOP = 1 << 2, FAULT_FORCE = 1 << 3, FAULT_TRAVEL = 1 << 4,
    FAULT_TIME = 1 << 5, FAULT_CONVERTER = 1 << 6, FAULT_DRIVER = 1 << 7, FAULT_WATCHDOG = 1 << 8
};

enum { /* events */
    EVENT_STARTED = 1, EVENT_FAULT_RAISED, EVENT_GUARD_OPENED, EVENT_GUARD_CLOSED, EVENT_EMERGENCY_STOP_PRESSED,
    EVENT_EMERGENCY_STOP_RELEASED, EVENT_MOTION_ENDED, EVENT_HOMED,
    EVENT_SPECIMEN_LOADED, EVENT_FEEDER_EMPTY
};

enum { /* results */
    RESULT_DONE, RESULT_UNKNOWN_TYPE, RESULT_BAD_VALUE, RESULT_WRONG_BOOT, RESULT_WRONG_LIMITS, RESULT_FAULTED, RESULT_GUARD_OPEN,
    RESULT_EMERGENCY_STOP_PRESSED, RESULT_NO_KEEP_ALIVE, RESULT_BUSY, RESULT_NOT_CAPABLE, RESULT_OUTSIDE_LIMITS, RESULT_NOT_HOMED,
    RESULT_SUPERSEDED
};

enum { CHANNEL_OTHER, CHANNEL_FORCE, CHANNEL_EXTENSION, CHANNEL_TEMPERATURE };

enum { MOVE_BY_SPEED, MOVE_TO_POSITION, MOVE_RELEASE };

#define SAMPLES_HEAD  34u
#define SAMPLE_BYTES  5u
#define NAME_MAX      32u
#define UNIT_MAX      8u
#define CHANNELS_MAX  8u
#define CHANNEL_NONE  COUNTS_MIN                    /* a raw value that says that there is none */
#define COUNTS_MAX    8388607L
#define COUNTS_MIN    (-8388608L)

static inline uint16_t get16(const uint8_t *p) { return (uint16_t)(p[0] | (uint16_t)p[1] << 8); }
static inline uint32_t get32(const uint8_t *p) { return get16(p) | (uint32_t)get16(p + 2) << 16; }
static inline uint8_t *put16(uint8_t *p, uint16_t v) { p[0] = (uint8_t)v; p[1] = (uint8_t)(v >> 8); return p + 2; }
static inline uint8_t *put32(uint8_t *p, uint32_t v) { return put16(put16(p, (uint16_t)v), (uint16_t)(v >> 16)); }

#endif
