"""A device in two hundred lines, motion included, from PROTOCOL.md and the vectors alone. Standard input leads it in lock step, a line at a time:
`exchange MILLISECONDS HEX` gives it bytes, lets time go by, and prints what it sent; `guard 0` opens the guard, `guard 1` closes it."""
import struct
import sys

STILL, MOVING, STOPPING = 0, 1, 2
DONE, UNKNOWN, BAD, BOOT, LIMITS, FAULTED, GUARD, _, NO_LIFE, BUSY, NOT_CAPABLE, OUTSIDE, _, SUPERSEDED = range(14)
LIFE_LOST, GUARD_OPENED, FORCE, TRAVEL, TIME = 1, 2, 8, 16, 32
BOOT_NUMBER, HARD = 0xC0FFEE, (-8000000, 8000000, -400, 60000, 8000, 40000)
FORMS = {0x41: "<H", 0x43: "<HHiiiiIII", 0x44: "<HIHBiIi", 0x46: "<HIHI", 0x48: "<HIH", 0x49: "<HIH", 0x4A: "<HBI"}


def crc16(data):
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = (crc << 1 ^ 0x1021 if crc & 0x8000 else crc << 1) & 0xFFFF
    return crc


def unstuff(data):
    out, at = bytearray(), 0
    while at < len(data):
        if at + data[at] > len(data):
            return b""
        out += data[at + 1:at + data[at]]
        at += data[at]
        if at < len(data):
            out.append(0)
    return bytes(out)


class Device:
    def __init__(self):
        self.out, self.piece, self.now, self.limits, self.life, self.counter = bytearray(b"\0"), bytearray(), 0, None, -999, None
        self.position, self.speed, self.goal, self.acceleration, self.motion, self.began, self.target = 0.0, 0.0, 0, 1, STILL, 0, None
        self.faults, self.powered, self.guard, self.streaming, self.last, self.events, self.number = 0, 0, 1, 0, None, [], 0
        self.event_at, self.samples, self.conversions, self.told, self.told_at = 0, [], 0, None, 0
        self.hello()
        self.event(1, 0)

    def send(self, form, *fields, tail=b""):
        payload = struct.pack(form, *fields) + tail
        pieces = (payload + struct.pack("<H", crc16(payload))).split(b"\0")
        self.out += b"\0" + b"".join(bytes([len(p) + 1]) + p for p in pieces) + b"\0"

    def hello(self):
        self.send("<BBBIQHIIBIIiiiiII", 1, 1, 0, BOOT_NUMBER, 42, 1, 0b111, 80000, 24, 6250, 400000, *HARD, tail=b"\x0EA stranger's 1")

    def event(self, code, detail):
        self.number = self.number % 65535 + 1
        self.events.append((self.number, code, self.now * 1000 & 0xFFFFFFFF, detail))

    def fault(self, bit, off):
        if not self.faults & bit:
            self.event(2, bit)
        self.faults |= bit
        self.powered &= not off
        self.end()

    def end(self):
        if self.motion != STILL:
            self.motion, self.speed, self.goal = STILL, 0.0, 0
            self.event(7, int(self.position))

    def take(self, p):
        kind, number = p[0], struct.unpack_from("<H", p + b"\0\0", 1)[0] if len(p) > 2 else 0
        if kind in (0x42, 0x47):
            boot, value = struct.unpack_from("<IH", p, 1) if len(p) > 6 else (0, 0)
            if kind == 0x42 and boot == BOOT_NUMBER and value != self.counter:
                self.counter, self.life = value, self.now
            elif kind == 0x47 and boot == BOOT_NUMBER and self.events and self.events[0][0] == value:
                self.events.pop(0)
                self.event_at = self.now
            return
        if not 0x40 <= kind <= 0x6F:
            return
        age = (number - self.last[0] & 0xFFFF) if self.last else 1
        answer = (number, kind, DONE, 0)
        if kind == 0x45:
            if len(p) < 4 or p[3]:
                self.end()
            elif self.motion != STILL:
                self.motion, self.goal = STOPPING, 0
        elif kind == 0x41 and len(p) > 2:
            self.hello()
        elif number == 0 or age == 0 or age > 0x7FFF:
            answer = (number, kind, BAD if kind in FORMS else UNKNOWN, 0) if number == 0 else self.last if age == 0 else (number, kind, SUPERSEDED, 0)
        else:
            answer = (number, kind, *self.act(kind, p))
        if number and (0 < age < 0x8000 or kind == 0x41):
            self.last = answer
        self.send("<BHBBI", 4, *answer)

    def act(self, kind, p):
        if kind not in FORMS:
            return UNKNOWN, 0
        if len(p) < 1 + struct.calcsize(FORMS[kind]):
            return BAD, 0
        f = struct.unpack_from(FORMS[kind], p, 1)
        if kind == 0x4A:
            self.streaming = f[1] if not f[2] else self.streaming
            return (NOT_CAPABLE if f[2] else DONE), 0
        if kind == 0x48:
            result = BOOT if f[1] != BOOT_NUMBER else BUSY if self.motion != STILL else DONE
            gone = ~(LIFE_LOST * (self.now - self.life >= 500) | GUARD_OPENED * (not self.guard))
            self.faults &= ~(f[2] & gone) if result == DONE else -1
            return result, 0
        if kind == 0x43:
            bad = not f[1] or f[2] >= f[3] or f[4] >= f[5] or not (f[6] and f[7] and f[8])
            outside = f[2] < HARD[0] or f[3] > HARD[1] or f[4] < HARD[2] or f[5] > HARD[3] or f[6] > HARD[4] or f[7] > HARD[5]
            result = BAD if bad else BUSY if self.motion != STILL else OUTSIDE if outside else DONE
            self.limits = f if result == DONE else self.limits
            return result, f[1] | crc16(p) << 16 if result == DONE else 0
        if kind != 0x44:
            return NOT_CAPABLE, 0
        _, boot, limits, way, speed, acceleration, target = f
        if way > 1 or not speed or not acceleration:
            return BAD, 0
        for refused, result in ((boot != BOOT_NUMBER, BOOT), (not self.limits or limits != self.limits[1], LIMITS), (self.faults, FAULTED),
                                (not self.guard, GUARD), (self.now - self.life >= 500, NO_LIFE), (self.motion == STOPPING, BUSY)):
            if refused:
                return result, 0
        _, _, _, _, low, high, speed_max, acceleration_max, _ = self.limits
        up = target > self.position if way else speed > 0
        if abs(speed) > speed_max or acceleration > acceleration_max or way and not low <= target <= high or (self.position >= high if up else self.position <= low):
            return OUTSIDE, 0
        self.motion, self.goal, self.acceleration, self.began, self.powered = MOVING, abs(speed) * (1 if up else -1), acceleration, self.now, 1
        self.target = target if way else None
        return DONE, 0

    def millisecond(self):
        self.now += 1
        if self.now - self.life >= 500:
            if self.motion != STILL:
                self.fault(LIFE_LOST, True)
            self.powered = 0
        if self.motion != STILL:
            change = self.acceleration / 1000
            self.speed += max(-change, min(change, self.goal - self.speed))
            step = self.position + self.speed / 1000
            if self.target is not None and (step - self.target) * self.speed >= 0:   # an abrupt end: this motor is made of numbers
                self.position = float(self.target)
                self.end()
            elif not self.limits[4] <= step <= self.limits[5]:
                self.fault(TRAVEL, False)
            elif self.now - self.began > self.limits[8]:
                self.fault(TIME, False)
            else:
                self.position = step
                if self.motion == STOPPING and self.speed == 0:
                    self.end()
        if self.now * 2 % 25 < 2:
            counts = 84000 + int(self.position) * 100
            if self.motion != STILL and not self.limits[2] <= counts <= self.limits[3]:
                self.fault(FORCE, False)
            if self.streaming:
                self.samples.append((self.conversions, self.now * 1000 // 12500 * 12500, counts, int(self.position)))
            self.conversions += 1
        if self.events and self.now >= self.event_at:
            self.send("<BHBIi", 3, *self.events[0])
            self.event_at = self.now + 100
        look = (self.motion, self.faults, self.guard)
        if look != self.told or self.now - self.told_at >= 100 or len(self.samples) == 4:
            self.block()
            self.told, self.told_at = look, self.now

    def block(self):
        first = self.samples[0] if self.samples else (self.conversions, self.now * 1000, 0, int(self.position))
        tail, before = b"", first[3]
        for _, _, counts, steps in self.samples:
            tail, before = tail + struct.pack("<i", counts)[:3] + struct.pack("<h", steps - before), steps
        self.send("<BIHBBHHHHIIIiB", 2, BOOT_NUMBER, self.guard | 16, self.motion, 2 * self.powered, self.faults, self.limits[1] if self.limits else 0,
                  self.last[0] if self.last else 0, self.events[0][0] if self.events else 0, first[0], first[1] & 0xFFFFFFFF, 12500000,
                  first[3], len(self.samples), tail=tail)
        self.samples = []

    def receive(self, byte):
        if byte:
            self.piece.append(byte)
        else:
            content = unstuff(self.piece) if len(self.piece) <= 241 else b""
            if len(content) > 2 and crc16(content[:-2]) == struct.unpack("<H", content[-2:])[0]:
                self.take(content[:-2])
            self.piece.clear()


device = Device()
for line in sys.stdin:
    word, value, *data = line.split()
    if word == "guard":
        device.guard = int(value)
        device.event(4 if device.guard else 3, 0)
        if not device.guard and device.motion != STILL:
            device.fault(GUARD_OPENED, True)
        print("ok", flush=True)
        continue
    for b in bytes.fromhex(data[0]) if data else b"":
        device.receive(b)
    for _ in range(int(value)):
        device.millisecond()
    print("ok", device.out.hex(), flush=True)
    device.out.clear()
