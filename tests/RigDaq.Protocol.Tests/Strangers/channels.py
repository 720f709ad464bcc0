"""The moving device with a thermometer: a channel besides the force, from section 20 of PROTOCOL.md."""
import struct

from device import BAD_VALUE, DONE
from moving import MovingDevice, lead

CHANNEL, TEMPERATURE, DIVIDER, SIXTEENTHS = 0x4B, 3, 8, 16


def text(words):
    return bytes([len(words.encode())]) + words.encode()


class ChannelledDevice(MovingDevice):
    capabilities = 0b1000000111
    minor, further = 2, struct.pack("<BI", 1, 0)        # one channel; the baud rate says what the line carries

    def __init__(self):
        super().__init__()
        self.on, self.values, self.first_number = 0, [], 0

    def act(self, number, kind, payload):
        if kind != CHANNEL:
            return super().act(number, kind, payload)
        if not number or len(payload) < 5 or payload[3] != 0:
            return BAD_VALUE, 0
        self.send("B4sBBHIiiIiiH", 5, self.boot, 0, TEMPERATURE, DIVIDER, 100000, 0, 1, SIXTEENTHS,
                  -40 * SIXTEENTHS, 125 * SIXTEENTHS, 1, tail=text("°C") + text("Thermometer"))
        self.on = payload[4]
        return DONE, 0

    def millisecond(self):
        before = self.conversions
        super().millisecond()
        number = self.conversions - 1                   # the first one is number 0
        if self.conversions > before and number % DIVIDER == 0 and self.on and self.streaming:
            self.first_number = number if not self.values else self.first_number
            self.values.append(21 * SIXTEENTHS)

    def block(self):
        super().block()
        if self.values:
            tail = b"".join(struct.pack("<i", value)[:3] for value in self.values)
            self.send("B4sBIB", 6, self.boot, 0, self.first_number, len(self.values), tail=tail)
        self.values = []


if __name__ == "__main__":
    lead(ChannelledDevice())
