#!/usr/bin/env python3
"""What a person would write instead: pyserial and numpy decide from the wire's bytes whether a specimen broke.

    python3 tools/bench/sample_path.py FILE

FILE holds frames as PROTOCOL.md says. Prints samples a second of processor time, once from memory and once through a pseudo-terminal.
"""
import binascii
import os
import subprocess
import sys
import time

import numpy as np
import serial

HEAD = 34
NEWTONS_PER_COUNT, ZERO, NOISE = 1.1512e-4, 81_234, 30


def unstuff(piece):
    """Consistent overhead byte stuffing, taken off."""
    out, at = bytearray(), 0
    while at < len(piece):
        code = piece[at]
        out += piece[at + 1:at + code]
        at += code
        if code < 255 and at < len(piece):
            out.append(0)
    return out


class Way:
    """Frames, checksums, counts, newtons, spikes, the running maximum and the fall below two fifths of it."""

    def __init__(self):
        self.rest, self.samples, self.greatest, self.broken = b"", 0, 0.0, False

    def take(self, data):
        pieces = (self.rest + data).split(b"\0")
        self.rest = pieces.pop()
        blocks = []
        for piece in pieces:
            if not piece:
                continue
            content = unstuff(piece)
            payload = content[:-2]
            # CRC-16 with polynomial 0x1021, started at 0xFFFF, is in the standard library.
            if binascii.crc_hqx(payload, 0xFFFF) != int.from_bytes(content[-2:], "little") or payload[0] != 2:
                continue
            blocks.append(bytes(payload[HEAD:HEAD + 5 * payload[HEAD - 1]]))
        if not blocks:
            return
        raw = np.frombuffer(b"".join(blocks), np.uint8).reshape(-1, 5).astype(np.int32)
        counts = raw[:, 0] | (raw[:, 1] << 8) | (raw[:, 2].astype(np.int8).astype(np.int32) << 16)
        force = (counts - ZERO) * NEWTONS_PER_COUNT
        step = np.diff(force)
        spike = np.zeros(len(force), bool)
        limit = 8 * NOISE * NEWTONS_PER_COUNT
        spike[1:-1] = (np.abs(step[:-1]) > limit) & (np.abs(step[1:]) > limit) & (step[:-1] * step[1:] < 0)
        force = force[~spike]
        running = np.maximum(np.maximum.accumulate(force), self.greatest)
        self.greatest = running[-1]
        self.broken |= bool(np.any((running > 2) & (force < 0.4 * running)))
        self.samples += len(counts)


def main():
    data = open(sys.argv[1], "rb").read()
    best = 0
    for _ in range(3):
        way, began = Way(), time.process_time()
        for at in range(0, len(data), 65536):
            way.take(data[at:at + 65536])
        best = max(best, way.samples / (time.process_time() - began))
    print("memory", best)

    master, slave = os.openpty()
    port = serial.Serial(os.ttyname(slave), 250000, timeout=0.5)
    feeder = subprocess.Popen(["cat", sys.argv[1]], stdout=master)
    way, began, taken = Way(), time.process_time(), 0
    while taken < len(data):
        got = port.read(max(1, port.in_waiting))
        if not got:
            break
        taken += len(got)
        way.take(got)
    print("serial", way.samples / (time.process_time() - began))
    feeder.wait()


if __name__ == "__main__":
    main()
