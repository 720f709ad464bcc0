#!/usr/bin/env python3
"""Writes the vectors beside this file from PROTOCOL.md alone: a second implementation, which shares no code with any other.

    python3 make_vectors.py            write framing.json, messages.json, hostile.json and conversations.json
    python3 make_vectors.py --check    say whether they are what would be written (exit 1 if not)
    python3 make_vectors.py --header F write them as C tables, for tests that have no JSON reader
"""
import json
import os
import struct
import sys

sys.dont_write_bytecode = True  # nothing is left beside the vectors
from conversations import conversations  # noqa: E402
from layout import LAYOUT  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))


def crc16(data):
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = ((crc << 1) ^ 0x1021 if crc & 0x8000 else crc << 1) & 0xFFFF
    return crc


def stuff(data):
    out, piece = bytearray(), bytearray()
    for i, byte in enumerate(data):
        if byte:
            piece.append(byte)
        if not byte:
            out += bytes([len(piece) + 1]) + piece
            piece = bytearray()
        elif len(piece) == 254:
            out += b"\xff" + piece
            piece = bytearray()
            if i == len(data) - 1:
                return bytes(out)
    return bytes(out + bytes([len(piece) + 1]) + piece)


def frame(payload):
    return b"\0" + stuff(payload + struct.pack("<H", crc16(payload))) + b"\0"


def hexa(data):
    return bytes(data).hex().upper()


def payload_of(message, fields):
    kind, layout = LAYOUT[message]
    out = bytearray([kind])
    for name, letter in layout:
        if letter == "text":
            text = fields[name].encode()
            out += bytes([len(text)]) + text
        else:
            out += struct.pack("<" + letter, fields[name])
    if message == "Samples":
        out.append(len(fields["counts"]))
        before = fields["firstSteps"]
        for counts, steps in zip(fields["counts"], fields["steps"]):
            out += struct.pack("<i", counts)[:3] + struct.pack("<h", steps - before)
            before = steps
    if message == "ChannelSamples":
        out.append(len(fields["values"]))
        out += b"".join(struct.pack("<i", value)[:3] for value in fields["values"])
    if message == "Hello" and "channels" in fields:     # a tail of 1.2: there, or not
        out += struct.pack("<BI", fields["channels"], fields["lineBytesPerSecond"])
    return bytes(out)


BOOT = 0x5EED0B07
STATE_STILL = dict(bootNumber=BOOT, inputs=0b0010011, motion=0, stateBits=0, faults=0, limitsId=0, lastCommand=0, pendingEvent=1)
STATE_PULL = dict(bootNumber=BOOT, inputs=0b0110011, motion=1, stateBits=0b011, faults=0, limitsId=7, lastCommand=12, pendingEvent=0)
STATE_FAULT = dict(bootNumber=BOOT, inputs=0b1011110, motion=0, stateBits=0b101, faults=0x01FF, limitsId=0xFFFF, lastCommand=0xFFFF, pendingEvent=0xFFFF)

CASES = [
    ("a bench rig", "Hello", dict(versionMajor=1, versionMinor=0, bootNumber=BOOT, deviceId=0x0123456789ABCDEF, firmwareVersion=258,
                                  capabilities=0b000111111, converterRateMillihertz=80000, converterBits=24, converterDelayMicroseconds=6250,
                                  stepsPerMetre=400000, hardForceCountsMin=-8000000, hardForceCountsMax=8000000, hardTravelStepsMin=-400,
                                  hardTravelStepsMax=60000, hardSpeedStepsPerSecondMax=8000,
                                  hardAccelerationStepsPerSecondSquaredMax=40000, name="Bench rig")),
    ("measures only, no name", "Hello", dict(versionMajor=1, versionMinor=0, bootNumber=1, deviceId=0, firmwareVersion=0, capabilities=0,
                                             converterRateMillihertz=10000, converterBits=8, converterDelayMicroseconds=0, stepsPerMetre=0,
                                             hardForceCountsMin=-128, hardForceCountsMax=127, hardTravelStepsMin=0, hardTravelStepsMax=0,
                                             hardSpeedStepsPerSecondMax=0, hardAccelerationStepsPerSecondSquaredMax=0, name="")),
    ("the greatest values, a name of 32 bytes", "Hello", dict(
        versionMajor=1, versionMinor=255, bootNumber=2**32 - 1, deviceId=2**64 - 1, firmwareVersion=2**16 - 1, capabilities=2**32 - 1,
        converterRateMillihertz=2**32 - 1, converterBits=24, converterDelayMicroseconds=2**32 - 1, stepsPerMetre=2**32 - 1,
        hardForceCountsMin=-2**31, hardForceCountsMax=2**31 - 1, hardTravelStepsMin=-2**31, hardTravelStepsMax=2**31 - 1,
        hardSpeedStepsPerSecondMax=2**32 - 1, hardAccelerationStepsPerSecondSquaredMax=2**32 - 1, name="Prüfstand µ 0123456789 abcdefg")),
    ("two channels, on a line that no baud rate bounds", "Hello", dict(
        versionMajor=1, versionMinor=2, bootNumber=BOOT, deviceId=7, firmwareVersion=300, capabilities=0b1000000011,
        converterRateMillihertz=10000000, converterBits=24, converterDelayMicroseconds=50, stepsPerMetre=400000, hardForceCountsMin=-8000000,
        hardForceCountsMax=8000000, hardTravelStepsMin=-400, hardTravelStepsMax=60000, hardSpeedStepsPerSecondMax=8000,
        hardAccelerationStepsPerSecondSquaredMax=40000, name="Fast rig", channels=2, lineBytesPerSecond=2**32 - 1)),
    ("an extensometer of a tenth of a micrometre a count", "ChannelDescription", dict(
        bootNumber=BOOT, channel=0, kind=2, divider=1, delayMicroseconds=50, zero=-1200, numerator=1, denominator=10000, rawMin=-20000,
        rawMax=100000, resolution=3, unit="mm", name="Extensometer")),
    ("a temperature, falling counts", "ChannelDescription", dict(
        bootNumber=BOOT, channel=7, kind=3, divider=1000, delayMicroseconds=100000, zero=32000, numerator=-1, denominator=256, rawMin=-2**23 + 1,
        rawMax=2**23 - 1, resolution=1, unit="°C", name="")),
    ("the greatest values, a unit of 8 bytes and a name of 32", "ChannelDescription", dict(
        bootNumber=2**32 - 1, channel=255, kind=255, divider=65535, delayMicroseconds=2**32 - 1, zero=-2**31, numerator=2**31 - 1,
        denominator=2**32 - 1, rawMin=-2**31, rawMax=2**31 - 1, resolution=65535, unit="µm/m·K", name="Prüfstand µ 0123456789 abcdefg")),
    ("one value", "ChannelSamples", dict(bootNumber=BOOT, channel=1, firstNumber=2**32 - 1, values=[5888])),
    ("the ends of 24 bits, and none", "ChannelSamples", dict(bootNumber=BOOT, channel=0, firstNumber=4000, values=[0, -1, 2**23 - 1, -2**23 + 1, -2**23])),
    ("a full block of values", "ChannelSamples", dict(bootNumber=BOOT, channel=0, firstNumber=100, values=[500 * k - 9000 for k in range(75)])),
    ("the state alone", "Samples", dict(STATE_STILL, firstNumber=0, firstStampMicroseconds=1000, periodNanoseconds=0, firstSteps=0, counts=[], steps=[])),
    ("a pull", "Samples", dict(STATE_PULL, firstNumber=4000, firstStampMicroseconds=50012500, periodNanoseconds=12500000, firstSteps=1200,
                               counts=[84000, 84512, 85001, -1], steps=[1200, 1205, 1210, 1210])),
    ("all faults, numbers about to wrap, counts and steps at their ends", "Samples", dict(
        STATE_FAULT, firstNumber=2**32 - 1, firstStampMicroseconds=2**32 - 1, periodNanoseconds=2**32 - 1, firstSteps=-2**31,
        counts=[-2**23, 2**23 - 1, 0], steps=[-2**31, -2**31 + 32767, -2**31 - 1 + 32768 - 32767])),
    ("a full block", "Samples", dict(STATE_PULL, firstNumber=100, firstStampMicroseconds=25000, periodNanoseconds=250000, firstSteps=-20,
                                     counts=[1000 * k - 20000 for k in range(40)], steps=[k - 20 for k in range(40)])),
    ("the start", "Event", dict(number=1, code=1, stampMicroseconds=0, detail=0x0104)),
    ("a fault", "Event", dict(number=65535, code=2, stampMicroseconds=2**32 - 1, detail=8)),
    ("a motion ended below home", "Event", dict(number=3, code=7, stampMicroseconds=123456789, detail=-400)),
    ("done", "Answer", dict(command=1, type=0x41, result=0, detail=0)),
    ("refused", "Answer", dict(command=65535, type=0x44, result=13, detail=0)),
    ("ask for a hello", "AskHello", dict(command=1, versionMajor=1, versionMinor=1)),
    ("the greatest number", "AskHello", dict(command=65535, versionMajor=2, versionMinor=255)),
    ("alive", "KeepAlive", dict(bootNumber=BOOT, counter=0)),
    ("alive, about to wrap", "KeepAlive", dict(bootNumber=BOOT, counter=65535)),
    ("limits", "SetLimits", dict(command=2, limitsId=7, forceCountsMin=-50000, forceCountsMax=4200000, travelStepsMin=0, travelStepsMax=40000,
                                 speedStepsPerSecondMax=4000, accelerationStepsPerSecondSquaredMax=20000, motionMillisecondsMax=120000)),
    ("pull", "Move", dict(command=3, bootNumber=BOOT, limitsId=7, kind=0, speedStepsPerSecond=400, accelerationStepsPerSecondSquared=4000, targetSteps=0)),
    ("close", "Move", dict(command=4, bootNumber=BOOT, limitsId=7, kind=0, speedStepsPerSecond=-400, accelerationStepsPerSecondSquared=4000, targetSteps=0)),
    ("return", "Move", dict(command=5, bootNumber=BOOT, limitsId=7, kind=1, speedStepsPerSecond=4000, accelerationStepsPerSecondSquared=20000, targetSteps=-1)),
    ("at once", "Stop", dict(command=6, atOnce=1)),
    ("by the ramp", "Stop", dict(command=7, atOnce=0)),
    ("home", "Home", dict(command=8, bootNumber=BOOT, limitsId=7, speedStepsPerSecond=800)),
    ("seen", "AcknowledgeEvent", dict(bootNumber=BOOT, number=1)),
    ("clear all", "ClearFaults", dict(command=9, bootNumber=BOOT, faults=0xFFFF)),
    ("the next specimen", "Feed", dict(command=10, bootNumber=BOOT, limitsId=7)),
    ("on, rate as it is", "Stream", dict(command=11, on=1, rateMillihertz=0)),
    ("off", "Stream", dict(command=12, on=0, rateMillihertz=0)),
    ("80 samples/s", "Stream", dict(command=13, on=1, rateMillihertz=80000)),
    ("the second channel, on", "Channel", dict(command=14, channel=1, on=1)),
    ("the first, described only", "Channel", dict(command=15, channel=0, on=0)),
]


def messages():
    made = []
    for name, message, fields in CASES:
        payload = payload_of(message, fields)
        shown = {k: f"0x{v:016X}" if k == "deviceId" else v for k, v in fields.items()}  # 64 bits are more than some JSON readers hold
        made.append(dict(name=name, message=message, type=LAYOUT[message][0], fields=shown, payload=hexa(payload), wire=hexa(frame(payload))))
    limits = next(m for m in made if m["message"] == "SetLimits")
    checked = payload_of("Answer", dict(command=2, type=0x43, result=0, detail=7 | crc16(bytes.fromhex(limits["payload"])) << 16))
    made.append(dict(name="confirms the limits above: id and CRC of the command's payload", message="Answer", type=4,
                     fields=dict(command=2, type=0x43, result=0, detail=struct.unpack("<I", checked[5:])[0]),
                     payload=hexa(checked), wire=hexa(frame(checked))))
    return made


def framing():
    paper = "Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999"
    cobs = [("one zero", b"\0"), ("two zeros", b"\0\0"), ("a zero within", b"\x11\x22\0\x33"), ("no zero", b"\x11\x22\x33\x44"),
            ("zeros at the end", b"\x11\0\0\0"), ("254 bytes without a zero", bytes(range(1, 255))),
            ("nothing", b""), ("255 bytes without a zero", bytes(range(1, 256))), ("a zero, then 254 bytes", b"\0" + bytes(range(1, 255)))]
    return dict(
        crc16=[dict(name="the catalogue's check value", source="catalogue of parametrised CRC algorithms, CRC-16/IBM-3740",
                    bytes=hexa(b"123456789"), crc="29B1"),
               *[dict(name=n, bytes=hexa(b), crc=f"{crc16(b):04X}") for n, b in
                 [("nothing", b""), ("one zero", b"\0"), ("every byte once", bytes(range(256)))]]],
        cobs=[dict(name=n, source=paper if k < 6 else "computed", plain=hexa(b), stuffed=hexa(stuff(b))) for k, (n, b) in enumerate(cobs)],
        frames=[dict(name=n, payload=hexa(p), wire=hexa(frame(p))) for n, p in [
            ("the shortest", b"\x41"), ("zeros alone", bytes(16)), ("the longest", bytes([2]) + bytes(range(1, 238))),
            ("the longest, all zeros", bytes(238)), ("a CRC whose high byte is zero", first_with(lambda c: c < 0x100 and c)),
            ("a CRC whose low byte is zero", first_with(lambda c: not c & 0xFF and c))]])


def first_with(wanted):
    for number in range(1 << 16):
        payload = struct.pack("<BH", 0x41, number)
        if wanted(crc16(payload)):
            return payload
    raise ValueError("no such payload")


def hostile():
    good, other = bytes([0x41, 1, 0]), bytes([0x45, 2, 0, 1])
    wire, content = frame(good), good + struct.pack("<H", crc16(good))
    noise = bytes((37 * k + 11) % 255 + 1 for k in range(600))
    stream = lambda name, data, payloads, bad: dict(name=name, bytes=hexa(data), payloads=[hexa(p) for p in payloads], bad=bad)
    streams = [
        stream("two frames with one zero between", wire + frame(other)[1:], [good, other], 0),
        stream("only zeros", bytes(20), [], 0),
        stream("garbage before a frame", b"\xDE\xAD\xBE\xEF" + wire, [good], 1),
        stream("garbage of 600 bytes before a frame", noise + wire, [good], 1),
        stream("garbage with zeros in it", b"\x05\x11\0\x07\0\xFF\xFF\0" + wire, [good], 3),
        stream("a frame cut short, then a whole one", wire[:-3] + wire, [good], 1),
        stream("a frame whose end is missing swallows no second frame that brings its own zero", wire[:-1] + wire, [good, good], 0),
        stream("a frame whose head is missing", wire[3:] + wire, [good], 1),
        stream("one bit wrong in the payload", b"\0" + stuff(bytes([good[0] ^ 1]) + content[1:]) + b"\0" + wire, [good], 1),
        stream("one bit wrong in the CRC", b"\0" + stuff(content[:-1] + bytes([content[-1] ^ 0x80])) + b"\0" + wire, [good], 1),
        stream("CRC in the wrong order", b"\0" + stuff(good + struct.pack(">H", crc16(good))) + b"\0" + wire, [good], 1),
        stream("a code byte that points behind the end", b"\0\x09\x11\x22\0" + wire, [good], 1),
        stream("a CRC and nothing else", b"\0" + stuff(struct.pack("<H", crc16(b""))) + b"\0" + wire, [good], 1),
        stream("content of one byte", b"\0" + stuff(b"\x41") + b"\0" + wire, [good], 1),
        stream("content of no byte", b"\0\x01\0" + wire, [good], 1),
        stream("a payload of 239 bytes, one too many, its CRC right", frame(bytes([2]) + bytes(238)) + wire, [good], 1),
        stream("a payload of 300 bytes, its CRC right", frame(bytes([2]) + noise[:299]) + wire, [good], 1),
        stream("a frame never ended", wire + b"\0\x05\x11\x22", [good], 0),
        stream("an unknown type is a good frame", frame(b"\x3F\x01\x02") + frame(b"\xC8") + wire, [b"\x3F\x01\x02", b"\xC8", good], 0),
    ]
    made = messages()
    payloads = []
    for message in LAYOUT:
        case = next(m for m in made if m["message"] == message)
        whole = bytes.fromhex(case["payload"])
        payloads.append(dict(name=f"{message} with fields of a later version behind", message=message, payload=hexa(whole + b"\xAA\x00\xBB"),
                             outcome="read", fields=case["fields"]))
        if message == "AskHello":  # the version is a tail of 1.1: there, or not
            older = dict(name="AskHello of a host of version 1.0", message=message, payload=hexa(whole[:3]), outcome="read",
                         fields=dict(case["fields"], versionMajor=1, versionMinor=0))
            payloads += [older, dict(older, name="AskHello with half of a version counts as one without", payload=hexa(whole[:4]))]
            whole = whole[:3]
        payloads.append(dict(name=f"{message} short of its last byte", message=message, payload=hexa(whole[:-1]), outcome="skipped"))
        payloads.append(dict(name=f"{message} that is a type and nothing else", message=message, payload=hexa(whole[:1]), outcome="skipped"))
    full = next(m for m in made if m["name"] == "a full block")
    payload = bytearray.fromhex(full["payload"])
    payload[33] = 41
    payloads.append(dict(name="Samples that claim one more than a block can hold", message="Samples", payload=hexa(payload), outcome="skipped"))
    payload[33] = 255
    payloads.append(dict(name="Samples that claim 255", message="Samples", payload=hexa(payload), outcome="skipped"))
    full = next(m for m in made if m["name"] == "a full block of values")
    payload = bytearray.fromhex(full["payload"])
    payload[10] = 76
    payloads.append(dict(name="ChannelSamples that claim one more than a block can hold", message="ChannelSamples", payload=hexa(payload), outcome="skipped"))
    payload[10] = 0
    payloads.append(dict(name="ChannelSamples that hold none", message="ChannelSamples", payload=hexa(payload), outcome="skipped"))
    hello = bytearray.fromhex(made[1]["payload"])
    hello[-1] = 1
    payloads.append(dict(name="Hello whose name is shorter than it claims", message="Hello", payload=hexa(hello), outcome="skipped"))
    stuffing = [dict(name=n, stuffed=hexa(b)) for n, b in [
        ("a code byte of zero", b"\0"), ("a zero within a piece", b"\x04\x11\0\x22"), ("a piece that is cut short", b"\x05\x11\x22"),
        ("a second piece that is cut short", b"\x02\x11\x03\x22")]]
    return dict(streams=streams, payloads=payloads, stuffingThatFails=stuffing)


def a_step_a_line(value):
    def steps(list_of):
        return "[\n" + ",\n".join("   " + json.dumps(step, ensure_ascii=False) for step in list_of) + "]"

    begins = ",\n".join(f"  {json.dumps(name)}: {steps(list_of)}" for name, list_of in value["begins"].items())
    talks = ",\n".join("  " + json.dumps({k: v for k, v in talk.items() if k != "steps"}, ensure_ascii=False)[:-1] + ', "steps": '
                       + steps(talk["steps"]) + "}" for talk in value["conversations"])
    return '{\n "begins": {\n' + begins + '},\n "conversations": [\n' + talks + "]}\n"


def write(name, value, check):
    path = os.path.join(HERE, name)
    text = a_step_a_line(value) if name == "conversations.json" else json.dumps(value, indent=1, ensure_ascii=False) + "\n"
    if check:
        with open(path, encoding="utf-8") as f:
            return f.read() == text
    with open(path, "w", encoding="utf-8", newline="\n") as f:
        f.write(text)
    return True


def header():
    def table(data):
        return '"' + "".join(f"\\x{b:02X}" for b in data) + f'", {len(data)}'

    def quoted(text):
        return json.dumps(text, ensure_ascii=False)

    lines = ["/* Written by make_vectors.py. */", "typedef struct { const char *name; const char *a; unsigned a_length; const char *b; unsigned b_length; "
             "unsigned number; } vector_t;"]
    frames = [(f["name"], bytes.fromhex(f["payload"]), bytes.fromhex(f["wire"]), 0) for f in framing()["frames"]]
    frames += [(m["message"] + ", " + m["name"], bytes.fromhex(m["payload"]), bytes.fromhex(m["wire"]), 0) for m in messages()]
    # The payloads of a stream, each with its length before it.
    streams = [(s["name"], bytes.fromhex(s["bytes"]), b"".join(bytes([len(p) // 2]) + bytes.fromhex(p) for p in s["payloads"]), s["bad"])
               for s in hostile()["streams"]]
    crcs = [(c["name"], bytes.fromhex(c["bytes"]), b"", int(c["crc"], 16)) for c in framing()["crc16"] if len(c["bytes"]) < 500]
    for name, rows in [("vector_frames", frames), ("vector_streams", streams), ("vector_crcs", crcs)]:
        lines.append(f"static const vector_t {name}[] = {{")
        lines += [f"    {{ {quoted(n)}, {table(a)}, {table(b)}, {number} }}," for n, a, b, number in rows]
        lines.append("};")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    if "--header" in sys.argv[1:]:
        with open(sys.argv[sys.argv.index("--header") + 1], "w", encoding="utf-8") as f:
            f.write(header())
        sys.exit(0)
    only_check = "--check" in sys.argv[1:]
    results = [write(n, v, only_check) for n, v in
               [("framing.json", framing()), ("messages.json", messages()), ("hostile.json", hostile()),
                ("conversations.json", conversations())]]
    if not all(results):
        sys.exit("the vectors are not what make_vectors.py writes: run it")
