#!/usr/bin/env python3
"""A small reader as a person would write it: pyserial, one frame after another, a line of a file for each sample.

    python3 tools/bench/idle_reader.py PORT FRAME FILE

FRAME is the frame, as hexadecimal digits, that asks the device to send its samples.
"""
import sys

import serial

from sample_path import unstuff

HEAD = 34


def main():
    port = serial.Serial(sys.argv[1], 250000, timeout=0.2)
    port.write(bytes.fromhex(sys.argv[2]))
    print("ready", file=sys.stderr, flush=True)
    rest = b""
    with open(sys.argv[3], "w") as file:
        while True:
            pieces = (rest + port.read(max(1, port.in_waiting))).split(b"\0")
            rest = pieces.pop()
            for piece in pieces:
                payload = unstuff(piece)[:-2]
                if not payload or payload[0] != 2:
                    continue
                for at in range(HEAD, HEAD + 5 * payload[HEAD - 1], 5):
                    file.write(f"{int.from_bytes(payload[at:at + 3], 'little', signed=True)}\n")
            file.flush()


if __name__ == "__main__":
    main()
