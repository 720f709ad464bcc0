#!/usr/bin/env python3
"""Makes the page of settings of the Cortex-M port from a JSON file: settings.py rig.json settings.bin

Write it to the chip at 0x3F000, as the chip's flashing tool says. Its layout is settings.h; a rig's figures are in example.json."""
import json
import struct
import sys

DRIVER_REGISTERS_MAX = 8


def crc16(data):
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = (crc << 1 ^ 0x1021 if crc & 0x8000 else crc << 1) & 0xFFFF
    return crc


def page(rig):
    converter, screw, force, driver = rig["converter"], rig["screw"], rig["force"], rig.get("driver", {})
    registers = driver.get("registers", [])
    name = rig["name"].encode()
    if len(registers) > DRIVER_REGISTERS_MAX or len(name) > 32:
        raise ValueError("at most 8 registers of the driver, and 32 bytes of name")
    body = struct.pack(
        "<IIIIIiiiiii4B", converter["rateMillihertz"], converter["delayMicroseconds"], screw["stepsPerMetre"], screw["speedStepsPerSecondMax"],
        screw["accelerationStepsPerSecondSquaredMax"], screw["travelStepsMin"], screw["travelStepsMax"], screw["homeClearanceSteps"],
        force["countsMin"], force["countsMax"], converter["sign"], screw["needsPower"], screw["closedLoop"], driver.get("address", 0), len(registers))
    for number, value in (registers + [[0, 0]] * DRIVER_REGISTERS_MAX)[:DRIVER_REGISTERS_MAX]:
        body += struct.pack("<B3xI", number, value)
    body += struct.pack("<B3xI33sx", driver.get("statusRegister", 0xFF), driver.get("troubleBits", 0), name)
    whole = struct.pack("<IHH", 0x53474952, 1, 8 + len(body) + 2) + body
    return whole + struct.pack("<H", crc16(whole))


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as f:
        made = page(json.load(f))
    with open(sys.argv[2], "wb") as f:
        f.write(made)
