"""A device that measures, in a hundred lines, from PROTOCOL.md and the vectors alone.

It opens a pseudo-terminal and prints its name: give that to the host as the serial port."""
import os
import select
import struct
import time
import tty

DONE, UNKNOWN_TYPE, BAD_VALUE, WRONG_BOOT, NOT_CAPABLE, SUPERSEDED = 0, 1, 2, 3, 10, 13
ASK_HELLO, KEEP_ALIVE, STOP, ACKNOWLEDGE, CLEAR_FAULTS, STREAM = 0x41, 0x42, 0x45, 0x47, 0x48, 0x4A
OF_MOTION = (0x43, 0x44, 0x46, 0x49)
PERIOD_MICROSECONDS, BLOCK_MILLISECONDS, ROOM = 12500, 50, 400


def crc16(data):
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = (crc << 1 ^ 0x1021 if crc & 0x8000 else crc << 1) & 0xFFFF
    return struct.pack("<H", crc)


def frame(payload):
    pieces = (payload + crc16(payload)).split(b"\0")
    return b"\0" + b"".join(bytes([len(piece) + 1]) + piece for piece in pieces) + b"\0"


def payload_of(stretch):
    """What the bytes between two zeros hold; nothing where they are no frame."""
    content, at = b"", 0
    while at < len(stretch) <= 241:
        content += stretch[at + 1:at + stretch[at]] + b"\0"
        at += stretch[at]
    payload, crc = content[:-3], content[-3:-1]
    return payload if at == len(stretch) and crc == crc16(payload) else b""


class Device:
    capabilities, steps_per_metre, hard_limits = 0, 0, (-8000000, 8000000, 0, 0, 0, 0)
    minor, further = 1, b""

    def __init__(self):
        self.boot = os.urandom(3) + b"\1"               # never 0
        self.out, self.stretch, self.last, self.now = bytearray(b"\0"), b"", None, 0
        self.streaming, self.dropped, self.conversions, self.samples = 0, 0, 0, []
        self.hello()

    def send(self, form, *fields, tail=b""):
        self.out += frame(struct.pack("<" + form, *fields) + tail)

    def hello(self):
        self.send("BBB4sQHIIBIIiiiiII", 1, 1, self.minor, self.boot, 42, 1, self.capabilities,
                  80000, 24, 6250, self.steps_per_metre, *self.hard_limits,
                  tail=b"\x0AStranger's" + self.further)

    def receive(self, data):
        *stretches, rest = data.split(b"\0")
        for stretch in stretches:
            payload, self.stretch = payload_of(self.stretch + stretch), b""
            if payload and payload[0] in (KEEP_ALIVE, ACKNOWLEDGE):
                self.heed(payload[0], payload)
            elif payload and 0x40 <= payload[0] <= 0x6F:
                self.take(payload[0], payload)
        self.stretch = (self.stretch + rest)[:242]      # enough to be too long

    def heed(self, kind, payload):
        """What is not answered; a device that does not move needs none of it."""

    def take(self, kind, payload):
        number = int.from_bytes(payload[1:3], "little") if len(payload) > 2 else 0
        age = number - self.last[0] & 0xFFFF if self.last else 1    # serial arithmetic: it wraps
        answer, greets = (number, kind, DONE, 0), kind == ASK_HELLO and len(payload) > 2
        if kind == STOP:
            self.stop(payload)
        elif not greets and (number == 0 or 0 < age < 0x8000):
            answer = (number, kind, *self.act(number, kind, payload))
        elif not greets:
            answer = self.last if age == 0 else (number, kind, SUPERSEDED, 0)
        if number and (0 < age < 0x8000 or kind == ASK_HELLO):
            self.last = answer
        self.send("BHBBI", 4, *answer)
        if greets:
            self.hello()

    def stop(self, payload):
        """Nothing moves."""

    def act(self, number, kind, payload):
        """Does a command; gives its result and detail."""
        if kind not in (ASK_HELLO, STREAM, CLEAR_FAULTS, *OF_MOTION):
            return UNKNOWN_TYPE, 0
        if number and kind in OF_MOTION:
            return NOT_CAPABLE, 0
        if number == 0 or len(payload) < {STREAM: 8, CLEAR_FAULTS: 9}.get(kind, 3):
            return BAD_VALUE, 0
        if kind == STREAM and payload[4:8] != bytes(4):
            return NOT_CAPABLE, 0
        if kind == CLEAR_FAULTS:
            return WRONG_BOOT if payload[3:7] != self.boot else DONE, 0
        self.block()                            # none may span a pause
        self.streaming, self.dropped = payload[3], 0
        return DONE, 0

    def millisecond(self):
        self.now += 1
        if self.now * 1000 // PERIOD_MICROSECONDS > self.conversions:
            self.conversions += 1
            if self.streaming:
                self.samples.append(84000)
        if self.now % BLOCK_MILLISECONDS == 0:
            self.block()

    def block(self):
        first = self.conversions - len(self.samples)
        stamp = (first + 1) * PERIOD_MICROSECONDS if self.samples else self.now * 1000
        tail = b"".join(struct.pack("<i", counts)[:3] + b"\0\0" for counts in self.samples)
        self.dropped |= 4 * (len(self.out) > ROOM)
        if len(self.out) <= ROOM:               # else nobody reads: it is dropped whole
            self.send("B4sHBBHHHHIIIiB", 2, self.boot, 16, 0, self.dropped, 0, 0,
                      self.last[0] if self.last else 0, 0, first, stamp & 0xFFFFFFFF,
                      PERIOD_MICROSECONDS * 1000, 0, len(self.samples), tail=tail)
        self.samples = []


if __name__ == "__main__":
    ours, port = os.openpty()
    tty.setraw(port)
    os.set_blocking(ours, False)
    print(os.ttyname(port), flush=True)
    device, began = Device(), time.monotonic()
    while True:
        if select.select([ours], [], [], 0.001)[0]:
            device.receive(os.read(ours, 4096))
        while device.now < (time.monotonic() - began) * 1000:
            device.millisecond()
        if device.out and select.select([], [ours], [], 0)[1]:
            del device.out[:os.write(ours, device.out)]
