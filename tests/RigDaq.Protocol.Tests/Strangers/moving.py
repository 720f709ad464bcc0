"""The same device with motion, one speed ramp, a guard and a force that follows the position.

Standard input leads it in lock step, a line at a time: `exchange MILLISECONDS HEX` gives it bytes,
lets time go by, and prints what it sent; `guard 0` opens the guard, `guard 1` closes it; `converter 0`
is dead, `stuck 1` repeats itself, `starve N` leaves out every Nth conversion."""
import struct
import sys

from device import (
    BAD_VALUE, CLEAR_FAULTS, DONE, KEEP_ALIVE, PERIOD_MICROSECONDS, ROOM, WRONG_BOOT,
    Device, crc16)

SET_LIMITS, MOVE, STILL, MOVING, STOPPING = 0x43, 0x44, 0, 1, 2
WRONG_LIMITS, FAULTED, GUARD_OPEN, NO_KEEP_ALIVE, BUSY, OUTSIDE_LIMITS = 4, 5, 6, 8, 9, 11
KEEP_ALIVE_LOST, GUARD_OPENED, FORCE_LIMIT, TRAVEL_LIMIT, TIME_LIMIT, CONVERTER = 1, 2, 8, 16, 32, 64
STARTED, FAULT_RAISED, WAS_OPENED, WAS_CLOSED, MOTION_ENDED = 1, 2, 3, 4, 7


class MovingDevice(Device):
    capabilities, steps_per_metre = 0b111, 400000
    hard_limits = (-8000000, 8000000, -400, 60000, 8000, 40000)

    def __init__(self):
        super().__init__()
        self.limits, self.limits_id, self.alive_at, self.counter = None, 0, -999, None
        self.events, self.event_number, self.event_at, self.told = [], 0, 0, None
        self.motion, self.began, self.faults, self.powered, self.guard = STILL, 0, 0, 0, 1
        self.position, self.speed, self.goal, self.acceleration, self.target = 0.0, 0.0, 0, 1, None
        self.counts, self.beyond, self.reached, self.way_back_from = 84000, 0, 0, None
        self.world = dict(converter=1, stuck=0, starve=0)
        self.periods, self.read_at, self.read, self.equal, self.doubt, self.unsound = 0, 0, 0, 0, 0, False
        self.event(STARTED, 0)

    def event(self, code, detail):
        self.event_number = self.event_number % 65535 + 1
        self.events.append((self.event_number, code, self.now * 1000 & 0xFFFFFFFF, detail))

    def fault(self, bit, cuts_power):
        if not self.faults & bit:
            self.event(FAULT_RAISED, bit)
        self.faults |= bit
        self.powered &= not cuts_power
        self.end()

    def end(self):
        if self.motion != STILL:
            self.motion, self.speed, self.goal = STILL, 0.0, 0
            self.event(MOTION_ENDED, int(self.position))

    def set_guard(self, closed):
        self.guard = closed
        self.event(WAS_CLOSED if closed else WAS_OPENED, 0)
        if not closed and self.motion != STILL:
            self.fault(GUARD_OPENED, True)

    def is_alive(self):
        return self.now - self.alive_at < 500

    def heed(self, kind, payload):
        value = payload[5:7]
        if payload[1:5] != self.boot or len(value) < 2:
            return
        counter = int.from_bytes(value, "little")
        newer = 1 if self.counter is None else counter - self.counter & 0xFFFF
        if kind == KEEP_ALIVE and newer and (newer < 0x8000 or not self.is_alive()):
            self.counter, self.alive_at = counter, self.now
        elif kind != KEEP_ALIVE and self.events and value == struct.pack("<H", self.events[0][0]):
            self.events.pop(0)
            self.event_at = self.now

    def stop(self, payload):
        if len(payload) < 4 or payload[3]:
            self.end()
        elif self.motion != STILL:
            self.motion, self.goal, self.target = STOPPING, 0, None

    def act(self, number, kind, payload):
        if kind == SET_LIMITS:
            return self.set_limits(payload) if number and len(payload) == 33 else (BAD_VALUE, 0)
        if kind == MOVE:
            if not number or len(payload) != 22:
                return BAD_VALUE, 0
            return self.move(*struct.unpack_from("<4sHBiIi", payload, 3)), 0
        result, detail = super().act(number, kind, payload)
        if kind == CLEAR_FAULTS and result == DONE and self.motion != STILL:
            result = BUSY
        elif kind == CLEAR_FAULTS and result == DONE:
            stays = (KEEP_ALIVE_LOST * (not self.is_alive()) | GUARD_OPENED * (not self.guard)
                     | CONVERTER * self.doubts())
            self.faults &= ~(int.from_bytes(payload[7:9], "little") & ~stays)
        return result, detail

    def set_limits(self, payload):
        limits_id, *limits = struct.unpack_from("<HiiiiIII", payload, 3)
        low, high, bottom, top, speed, acceleration, duration = limits
        hard = self.hard_limits
        if not (limits_id and low < high and bottom < top and speed and acceleration and duration):
            return BAD_VALUE, 0
        if self.motion != STILL:
            return BUSY, 0
        if (low < hard[0] or high > hard[1] or bottom < hard[2] or top > hard[3]
                or speed > hard[4] or acceleration > hard[5]):
            return OUTSIDE_LIMITS, 0
        self.limits_id, self.limits = limits_id, limits
        return DONE, limits_id | int.from_bytes(crc16(payload), "little") << 16

    def move(self, boot, limits_id, kind, speed, acceleration, target):
        if kind > 1 or not speed or not acceleration:
            return BAD_VALUE
        for refused, result in (
                (boot != self.boot, WRONG_BOOT), (limits_id != self.limits_id, WRONG_LIMITS),
                (self.faults, FAULTED), (not self.guard, GUARD_OPEN),
                (not self.is_alive(), NO_KEEP_ALIVE), (self.motion == STOPPING, BUSY)):
            if refused:
                return result
        _, _, bottom, top, speed_max, acceleration_max, _ = self.limits
        way = 1 if (target > self.position if kind else speed > 0) else -1
        at_end = self.position >= top if way > 0 else self.position <= bottom
        lets_go = way == -(self.reached or self.beyond)
        if (abs(speed) > speed_max or acceleration > acceleration_max or at_end
                or kind and not bottom <= target <= top or self.beyond and not lets_go):
            return OUTSIDE_LIMITS
        if self.motion == STILL or self.way_back_from is None:
            self.way_back_from = self.counts if self.beyond else None
        self.motion, self.began, self.powered = MOVING, self.now, 1
        self.goal, self.acceleration = abs(speed) * way, acceleration
        self.target = target if kind else None
        return DONE

    def watch_force(self, counts):
        """Two conversions in a row say whether the force is beyond; one alone can be wild."""
        low, high = self.limits[:2]
        before, side = ((c > high) - (c < low) for c in (self.counts, counts))
        self.counts = counts
        if bool(before) == bool(side):
            self.beyond = side
        if not self.beyond:
            self.reached, self.way_back_from = 0, None
        elif self.motion != STILL and self.way_back_from is None:
            self.reached = 1 if self.speed > 0 else -1
            self.fault(FORCE_LIMIT, False)
        elif self.motion != STILL:
            worse = self.beyond * (counts - self.way_back_from)
            if worse > (high - low) // 32:
                self.fault(FORCE_LIMIT, False)

    def step(self):
        change = self.acceleration / 1000
        self.speed += max(-change, min(change, self.goal - self.speed))
        next_position = self.position + self.speed / 1000
        if self.target is not None and (next_position - self.target) * self.speed >= 0:
            self.position = float(self.target)      # abruptly: a motor made of numbers
            self.end()
        elif not self.limits[2] <= next_position <= self.limits[3]:
            self.fault(TRAVEL_LIMIT, False)
        elif self.now - self.began > self.limits[6]:
            self.fault(TIME_LIMIT, False)
        else:
            self.position = next_position
            if self.motion == STOPPING and self.speed == 0:
                self.end()

    def millisecond(self):
        self.now += 1
        if not self.is_alive():
            if self.motion != STILL:
                self.fault(KEEP_ALIVE_LOST, True)
            self.powered = 0
        if self.motion != STILL:
            self.step()
        if self.now * 1000 // PERIOD_MICROSECONDS > self.periods:
            self.convert()
        silent = self.now - self.read_at
        if silent * 1000 > PERIOD_MICROSECONDS * (2.5 if self.motion else 4) + (5000 if self.motion else 20000):
            self.doubt, self.unsound = 6, True
        if self.doubts() and (self.motion != STILL or self.now > 1000):
            self.fault(CONVERTER, False)
        if self.events and self.now >= self.event_at:
            self.send("BHBIi", 3, *self.events[0])
            self.event_at = self.now + 100
        look = (self.motion, self.faults, self.guard)
        if look != self.told or self.now % 50 == 0:
            self.told = look
            self.block()

    def doubts(self):
        return self.unsound or self.equal >= 8

    def convert(self):
        """What the world lets through is doubted before it is believed."""
        world = self.world
        missing = not world["converter"] or world["starve"] and self.periods % world["starve"] == 0
        if missing and self.samples:
            self.block()                        # a block's samples follow each other
        self.periods += 1
        if missing:
            return
        late = (self.now - self.read_at) * 1000 > 1.5 * PERIOD_MICROSECONDS
        counts = self.read if world["stuck"] else 84000 + int(self.position) * 100 + self.periods % 3
        self.doubt = min(self.doubt + 2, 6) if late else max(self.doubt - 1, 0)
        self.unsound = self.doubt == 6 or self.unsound and self.doubt > 0
        self.equal = self.equal + 1 if counts == self.read else 0
        self.read, self.read_at = counts, self.now
        self.conversions += 1
        if self.limits:
            self.watch_force(counts)
        if self.streaming:
            self.samples.append((counts, int(self.position)))

    def block(self):
        first, count = self.conversions - len(self.samples), len(self.samples)
        stamp = (self.periods - count + 1) * PERIOD_MICROSECONDS if count else self.now * 1000
        position = before = self.samples[0][1] if count else int(self.position)
        tail = b""
        for counts, steps in self.samples:
            tail += struct.pack("<i", counts)[:3] + struct.pack("<h", steps - before)
            before = steps
        self.dropped |= 4 * (len(self.out) > ROOM)
        if len(self.out) <= ROOM:
            self.send("B4sHBBHHHHIIIiB", 2, self.boot, 16 | self.guard, self.motion,
                      2 * self.powered | self.dropped, self.faults, self.limits_id,
                      self.last[0] if self.last else 0,
                      self.events[0][0] if self.events else 0, first,
                      stamp & 0xFFFFFFFF, PERIOD_MICROSECONDS * 1000, position, count, tail=tail)
        self.samples = []


def lead(device):
    for line in sys.stdin:
        word, value, *data = line.split()
        if word != "exchange":
            device.set_guard(int(value)) if word == "guard" else device.world.update({word: int(value)})
            print("ok", flush=True)
            continue
        device.receive(bytes.fromhex(data[0]) if data else b"")
        for _ in range(int(value)):
            device.millisecond()
        print("ok", device.out.hex(), flush=True)
        device.out.clear()


if __name__ == "__main__":
    lead(MovingDevice())
