"""The conversations of conversations.json: what a host sends, step by step, and what a device must say to it (PROTOCOL.md, 19).

Written from PROTOCOL.md alone, as make_vectors.py is, which writes the file."""
import struct

from layout import LAYOUT

DONE, UNKNOWN_TYPE, BAD_VALUE, WRONG_BOOT, WRONG_LIMITS, FAULTED, GUARD_OPEN = range(7)
NO_KEEP_ALIVE, BUSY, NOT_CAPABLE, OUTSIDE_LIMITS, NOT_HOMED, SUPERSEDED = 8, 9, 10, 11, 12, 13
STILL, MOVING = 0, 1
KEEP_ALIVE_LOST, GUARD_OPENED, CONVERTER = 1, 2, 64
LIMITS_ID, OTHER_LIMITS_ID = 7, 8
SIZES = {"B": 1, "H": 2, "I": 4, "i": 4}


def payload(message, fields, cut=0, behind=""):
    """The bytes as hex; what only the device's hello tells stands as {name:bytes}."""
    number, slots = LAYOUT[message]
    parts = [f"{number:02X}"]
    for name, kind in slots:
        value = fields[name]
        parts.append(f"{{{value}:{SIZES[kind]}}}" if isinstance(value, str) else struct.pack("<" + kind, value).hex().upper())
    whole = "".join(parts)
    if cut:
        assert "{" not in whole[-2 * cut:], "only whole bytes can be cut"
        whole = whole[:-2 * cut]
    return whole + behind


def send(message, cut=0, behind="", **fields):
    return dict(do="send", message=message, fields=fields, payload=payload(message, fields, cut, behind))


def raw(hexadecimal, what):
    return dict(do="send", message=what, fields={}, payload=hexadecimal)


def expect(message, within=150, after=0, **fields):
    return dict(do="expect", message=message, fields=fields, within=within, **(dict(after=after) if after else {}))


def answer(command, kind, result, **further):
    return expect("Answer", command=command, type=LAYOUT[kind][0] if isinstance(kind, str) else kind, result=result, **further)


def state(within=200, after=0, **fields):
    return expect("Samples", within, after, **fields)


def never(message, during, **fields):
    return dict(do="never", message=message, fields=fields, during=during)


def wait(milliseconds):
    return dict(do="wait", during=milliseconds)


def keep_alive(on):
    return dict(do="keepAlive", on=on)


def acknowledge(on):
    return dict(do="acknowledge", on=on)


def world(what, value):
    return dict(do="world", what=what, value=value)


def asked(message, result, cut=0, behind="", **fields):
    """A command and its answer."""
    return [send(message, cut, behind, **fields), answer(fields["command"], message, result)]


def ask_hello(command):
    return dict(command=command, versionMajor=1, versionMinor=2)


def stream(command, on=0, rate=0):
    return dict(command=command, on=on, rateMillihertz=rate)


def limits(command, limits_id, **changed):
    return dict(dict(command=command, limitsId=limits_id, forceCountsMin="forceMin", forceCountsMax="forceMax", travelStepsMin="travelMin",
                     travelStepsMax="travelMax", speedStepsPerSecondMax="speedMax", accelerationStepsPerSecondSquaredMax="accelerationMax",
                     motionMillisecondsMax=10000), **changed)


def move(command, **changed):
    return dict(dict(command=command, bootNumber="boot", limitsId=LIMITS_ID, kind=0, speedStepsPerSecond="slow",
                     accelerationStepsPerSecondSquared="ramp", targetSteps=0), **changed)


def stop(command, at_once=1):
    return dict(command=command, atOnce=at_once)


def clear(command, **changed):
    return dict(dict(command=command, bootNumber="boot", faults=0xFFFF), **changed)


def alive(counter, **changed):
    return send("KeepAlive", **dict(dict(bootNumber="boot", counter=counter), **changed))


# How conversations begin: their own commands count on from 1010.
GREETED = [send("AskHello", **ask_hello(1000)), answer(1000, "AskHello", DONE), expect("Hello"), *asked("Stop", DONE, **stop(1001))]
LIMITED = [*GREETED, send("SetLimits", **limits(1002, LIMITS_ID)), answer(1002, "SetLimits", DONE, detail="limits")]
READY = [keep_alive(True), *LIMITED, wait(150), *asked("ClearFaults", DONE, **clear(1003)), state(faults=0, motion=STILL, pendingEvent=0)]
BEGINS = dict(greeted=GREETED, limited=LIMITED, ready=READY)
MOVES = dict(needs=["Motion"], moves=True)


def talk(name, section, *steps, begin="greeted", needs=(), lacks=(), moves=False, acts_on=()):
    flat = []
    for step in steps:
        flat += step if isinstance(step, list) else [step]
    return dict(name=name, section=section, needs=list(needs), lacks=list(lacks), moves=moves, world=list(acts_on), begin=begin, steps=flat)


def numbers():
    return [
        talk("a greeting is answered, and a hello follows, again and again", 5,
             [send("AskHello", **ask_hello(1000)), answer(1000, "AskHello", DONE), expect("Hello")] * 2),
        talk("a greeting of a host of version 1.0 is a greeting", 15,
             raw("41F203", "AskHello of a host before 1.1"), answer(1010, "AskHello", DONE), expect("Hello"), state(lastCommand=1010)),
        talk("a greeting of a later version is a greeting", 15,
             send("AskHello", behind="AA00BB", **dict(ask_hello(1010), versionMinor=255)), answer(1010, "AskHello", DONE), expect("Hello")),
        talk("a greeting with number 0 is taken and not remembered", 5,
             send("AskHello", **ask_hello(0)), answer(0, "AskHello", DONE), expect("Hello"), state(lastCommand=1001)),
        talk("a greeting that is too short is a bad value, and no hello comes", 5,
             raw("4101", "AskHello short of its number"), answer(0, "AskHello", BAD_VALUE), never("Hello", 200), state(lastCommand=1001)),
        talk("later commands count on from the greeting's number, also where that is older", 5,
             *asked("AskHello", DONE, **ask_hello(500)), *asked("Stream", DONE, **stream(501)), state(lastCommand=501)),
        talk("the same number again: the same answer, and nothing is done", 6,
             *asked("Stream", DONE, **stream(1010, on=1)), *asked("Stream", DONE, **stream(1010, on=0)),
             wait(150), state(samples=1), *asked("Stream", DONE, **stream(1011))),
        talk("the same number with another type: the answer that is remembered, and nothing is done", 6,
             *asked("Stream", DONE, **stream(1010, on=1)),
             send("ClearFaults", **clear(1010, bootNumber="boot+1")), answer(1010, "Stream", DONE), *asked("Stream", DONE, **stream(1011))),
        talk("an older number is superseded, not remembered, and nothing is done", 6,
             *asked("Stream", DONE, **stream(1010, on=1)), *asked("Stream", SUPERSEDED, **stream(1009)),
             wait(150), state(samples=1, lastCommand=1010), *asked("Stream", DONE, **stream(1011))),
        talk("an older number of a type that nobody knows is superseded", 6,
             raw("5FF103", "type 0x5F"), answer(1009, 0x5F, UNKNOWN_TYPE), raw("5FF003", "type 0x5F"), answer(1008, 0x5F, SUPERSEDED)),
        talk("numbers wrap and skip 0", 6,
             *asked("AskHello", DONE, **ask_hello(65535)), *asked("Stream", DONE, **stream(1)), *asked("Stream", SUPERSEDED, **stream(65535)),
             state(lastCommand=1)),
        talk("32,767 on is newer, 32,768 on is older", 6,
             *asked("AskHello", DONE, **ask_hello(1000)), *asked("Stream", SUPERSEDED, **stream(1000 + 32768)),
             *asked("Stream", DONE, **stream(1000 + 32767)), state(lastCommand=1000 + 32767)),
        talk("number 0 is a bad value and not remembered", 6, *asked("Stream", BAD_VALUE, **stream(0)), state(lastCommand=1001)),
        talk("a type that nobody knows is answered, and remembered like any other", 3,
             [raw("5FF203", "type 0x5F"), answer(1010, 0x5F, UNKNOWN_TYPE)] * 2, state(lastCommand=1010)),
        talk("a type that nobody knows is answered without a number too", 3,
             raw("5F", "type 0x5F and nothing else"), answer(0, 0x5F, UNKNOWN_TYPE), state(lastCommand=1001)),
        talk("a command that is too short is a bad value, and remembered", 3,
             send("Stream", cut=1, **stream(1010)), answer(1010, "Stream", BAD_VALUE), state(lastCommand=1010),
             *asked("Stream", BAD_VALUE, **stream(1010))),
        talk("bytes behind the fields of a command that neither restricts nor moves are skipped", 3,
             *asked("Stream", DONE, behind="AA00BB", **stream(1010))),
        talk("what is no command is skipped in silence", 3,
             *[raw(f"{kind:02X}F20300000000", f"type 0x{kind:02X}") for kind in (0x01, 0x2F, 0x70, 0x77, 0x80, 0xFF)],
             never("Answer", 250), state(lastCommand=1001)),
        talk("a command for another start is refused, and remembered", 6,
             *asked("ClearFaults", WRONG_BOOT, **clear(1010, bootNumber="boot+1")), state(lastCommand=1010)),
        talk("a rate that cannot be chosen is refused, and the stream stays as it is", 5,
             *asked("Stream", DONE, **stream(1010, on=1)), *asked("Stream", NOT_CAPABLE, **stream(1011, rate=12345)), wait(150), state(samples=1),
             *asked("Stream", DONE, **stream(1012)), lacks=["RateSelectable"]),
    ]


def stops():
    return [
        talk("a stop with an older number is done, and not remembered", 5,
             *asked("Stream", DONE, **stream(1010)), *asked("Stop", DONE, **stop(1005)), state(lastCommand=1010), *asked("Stream", DONE, **stream(1011))),
        talk("a stop with number 0 is done, and not remembered", 5, *asked("Stop", DONE, **stop(0)), state(lastCommand=1001)),
        talk("a stop without its last byte is done, and remembered", 5,
             send("Stop", cut=1, **stop(1010)), answer(1010, "Stop", DONE), state(lastCommand=1010)),
        talk("a stop without its number is done, its answer names number 0", 5,
             raw("45F2", "Stop of two bytes"), answer(0, "Stop", DONE), raw("45", "Stop of one byte"), answer(0, "Stop", DONE), state(lastCommand=1001)),
        talk("a stop with the number of a command of another type is a stop, and the command's answer stays remembered", 5,
             *asked("Stream", DONE, **stream(1010, on=1)), *asked("Stop", DONE, **stop(1010)), *asked("Stream", DONE, **stream(1010)),
             wait(150), state(samples=1), *asked("Stream", DONE, **stream(1011))),
        talk("a stop with bytes behind its fields is a stop", 5, *asked("Stop", DONE, behind="AA00BB", **stop(1010))),
    ]


def refusals():
    nothing = "00" * 12
    return [
        talk("what a device cannot do it says before it looks at fields: limits and moves", 6,
             raw("43F203" + nothing, "SetLimits of zeros, too short"), answer(1010, "SetLimits", NOT_CAPABLE),
             raw("44F303", "Move and nothing but its number"), answer(1011, "Move", NOT_CAPABLE), lacks=["Motion"]),
        talk("what a device cannot do it says before it looks at fields: homing", 6,
             raw("46F203", "Home and nothing but its number"), answer(1010, "Home", NOT_CAPABLE), lacks=["Homing"]),
        talk("what a device cannot do it says before it looks at fields: feeding", 6,
             raw("49F203", "Feed and nothing but its number"), answer(1010, "Feed", NOT_CAPABLE), lacks=["Feeder"]),
        talk("limits are confirmed by id and checksum, and named in the state", 8,
             send("SetLimits", **limits(1010, OTHER_LIMITS_ID)), answer(1010, "SetLimits", DONE, detail="limits"),
             state(limitsId=OTHER_LIMITS_ID), begin="limited", needs=["Motion"]),
        talk("limits that are refused replace none", 8,
             *asked("SetLimits", BAD_VALUE, **limits(1010, 0)),
             *asked("SetLimits", BAD_VALUE, **limits(1011, OTHER_LIMITS_ID, forceCountsMin=5, forceCountsMax=5)),
             *asked("SetLimits", BAD_VALUE, **limits(1012, OTHER_LIMITS_ID, travelStepsMin=1, travelStepsMax=0)),
             *asked("SetLimits", BAD_VALUE, **limits(1013, OTHER_LIMITS_ID, motionMillisecondsMax=0)),
             *asked("SetLimits", OUTSIDE_LIMITS, **limits(1014, OTHER_LIMITS_ID, speedStepsPerSecondMax="speedMax+1")),
             *asked("SetLimits", OUTSIDE_LIMITS, **limits(1015, OTHER_LIMITS_ID, forceCountsMax="forceMax+1")),
             state(limitsId=LIMITS_ID), begin="limited", needs=["Motion"]),
        talk("limits with bytes behind them are refused: they could restrict more", 8,
             *asked("SetLimits", BAD_VALUE, behind="64000000", **limits(1010, OTHER_LIMITS_ID)), state(limitsId=LIMITS_ID),
             begin="limited", needs=["Motion"]),
        talk("a move with bytes behind it is refused: they could restrict it", 9,
             *asked("Move", BAD_VALUE, behind="01", **move(1010)), *asked("Move", BAD_VALUE, cut=1, **move(1011)),
             *asked("Move", BAD_VALUE, **move(1012, speedStepsPerSecond=0)), *asked("Move", BAD_VALUE, **move(1013, kind=200)),
             *asked("Move", OUTSIDE_LIMITS, **move(1014, speedStepsPerSecond=-2**31)),
             state(motion=STILL), begin="ready", **MOVES),
        talk("a motion is refused in the order of the table", 6,
             *asked("Move", BAD_VALUE, **move(1010, bootNumber="boot+1", speedStepsPerSecond=0)),
             *asked("Move", WRONG_BOOT, **move(1011, bootNumber="boot+1", limitsId=OTHER_LIMITS_ID)),
             *asked("Move", WRONG_LIMITS, **move(1012, limitsId=OTHER_LIMITS_ID)),
             *asked("Move", OUTSIDE_LIMITS, **move(1013, accelerationStepsPerSecondSquared="accelerationMax+1")),
             *asked("Move", OUTSIDE_LIMITS, **move(1014, speedStepsPerSecond="speedMax+1")), state(motion=STILL), begin="ready", **MOVES),
    ]


def lives():
    refused = lambda command: asked("Move", NO_KEEP_ALIVE, **move(command))
    taken = lambda command: [*asked("Move", DONE, **move(command)), *asked("Stop", DONE, **stop(command + 1)), state(motion=STILL)]
    quiet = [keep_alive(False), wait(600)]
    return [
        talk("without a keep-alive there is no motion", 7, quiet, refused(1010), state(motion=STILL), begin="ready", **MOVES),
        talk("a keep-alive of this start frees motion", 7, quiet, alive("k+1"), taken(1010), begin="ready", **MOVES),
        talk("a keep-alive for another start is no life", 7, quiet, alive("k+1", bootNumber="boot+1"), refused(1010), begin="ready", **MOVES),
        talk("a keep-alive that is too short is no life", 7,
             quiet, send("KeepAlive", cut=1, bootNumber="boot", counter=77), refused(1010), begin="ready", **MOVES),
        talk("the same counter again is no life, whatever time has gone by", 7,
             quiet, alive("k"), refused(1010), wait(600), alive("k"), refused(1011), begin="ready", **MOVES),
        talk("an older counter is no life while there is some", 7,
             quiet, alive("k+9"), wait(300), alive("k+8"), wait(300), refused(1010), begin="ready", **MOVES),
        talk("32,767 on is newer, 32,768 on is older", 7,
             quiet, alive("k+1"), wait(300), alive("k+32769"), wait(300), refused(1010),
             alive("k+2"), wait(300), alive("k+32769"), wait(300), taken(1020), begin="ready", **MOVES),
        talk("after a silence every other counter is life: a host may have begun anew", 7, quiet, alive("k-300"), taken(1010), begin="ready", **MOVES),
        talk("silence stops a motion, takes the power and latches; late life frees nothing", 7,
             *asked("Move", DONE, **move(1010)), state(motion=MOVING, powered=1), keep_alive(False),
             state(within=660, after=380, motion=STILL, powered=0, faults=KEEP_ALIVE_LOST), *asked("ClearFaults", DONE, **clear(1011)),
             state(faults=KEEP_ALIVE_LOST), keep_alive(True), wait(250), state(motion=STILL, faults=KEEP_ALIVE_LOST),
             *asked("Move", FAULTED, **move(1012)), *asked("ClearFaults", DONE, **clear(1013)), state(faults=0), begin="ready", **MOVES),
        talk("two keep-alives sent in turn hold no motion", 7,
             *asked("Move", DONE, **move(1010)), keep_alive(False), alive("k+1"), wait(100), alive("k+2"),
             *[step for n in range(4) for step in (wait(140), alive(f"k+{1 + n % 2}"))], state(motion=STILL, faults=KEEP_ALIVE_LOST),
             begin="ready", **MOVES),
        talk("standing without life takes the power, and is no fault", 7,
             taken(1010), state(powered=1), keep_alive(False), state(within=660, after=380, powered=0, faults=0), begin="ready", **MOVES),
    ]


def motions():
    pressed = [*asked("Move", DONE, **move(1010)), state(motion=MOVING)]
    return [
        talk("what needs a standing crosshead is busy while it moves", 6, pressed, *asked("SetLimits", BUSY, **limits(1011, OTHER_LIMITS_ID)),
             *asked("ClearFaults", BUSY, **clear(1012)), *asked("Stop", DONE, **stop(1013)), state(motion=STILL, limitsId=LIMITS_ID),
             begin="ready", **MOVES),
        talk("a move replaces a move, and only the last one ends", 9, pressed,
             acknowledge(False), *asked("Move", DONE, **move(1011, speedStepsPerSecond="-slow")), never("Event", 250, code=7),
             *asked("Stop", DONE, **stop(1012, at_once=0)), expect("Event", 700, code=7), state(motion=STILL, powered=1), begin="ready", **MOVES),
        talk("a stop with an older number stops", 5, pressed, *asked("Stop", DONE, **stop(900)), state(motion=STILL, lastCommand=1010),
             begin="ready", **MOVES),
        talk("a stop of one byte stops", 5, pressed, raw("45", "Stop of one byte"), answer(0, "Stop", DONE), state(motion=STILL), begin="ready", **MOVES),
        talk("a move that is repeated after the stop that overtook it does not move", 6, pressed, *asked("Stop", DONE, **stop(1011)),
             state(motion=STILL), *asked("Move", SUPERSEDED, **move(1010)), never("Samples", 250, motion=MOVING), begin="ready", **MOVES),
        talk("a move that is repeated is answered again and begins no second motion", 6, pressed, *asked("Move", DONE, **move(1010)),
             *asked("Stop", DONE, **stop(1011)), state(motion=STILL), *asked("Stop", DONE, **stop(1011)), never("Samples", 200, motion=MOVING),
             begin="ready", **MOVES),
        talk("a greeting changes nothing else: what moves goes on", 5, pressed, *asked("AskHello", DONE, **ask_hello(1011)), expect("Hello"),
             never("Samples", 200, motion=STILL), *asked("Stop", DONE, **stop(1012)), state(motion=STILL), begin="ready", **MOVES),
    ]


def events_and_guard():
    moved = [*asked("Move", DONE, **move(1010)), state(motion=MOVING), acknowledge(False), *asked("Stop", DONE, **stop(1011)),
             expect("Event", 300, code=7)]
    return [
        talk("an event comes again every 100 ms until it is acknowledged for this start and by its number", 12, moved,
             expect("Event", 130, 70, number="event"), expect("Event", 130, 70, number="event"),
             send("AcknowledgeEvent", bootNumber="boot+1", number="event"), expect("Event", 130, number="event"),
             send("AcknowledgeEvent", bootNumber="boot", number="event+1"), expect("Event", 130, number="event"),
             send("AcknowledgeEvent", bootNumber="boot", number="event"), state(pendingEvent=0), never("Event", 250), begin="ready", **MOVES),
        talk("the guard opened in motion stops, cuts the power and latches until it is closed", 10,
             *asked("Move", DONE, **move(1010)), state(motion=MOVING, guardClosed=1), world("guard", 0), expect("Event", 150, code=3),
             expect("Event", 300, code=2, detail=GUARD_OPENED), expect("Event", 500, code=7),
             state(motion=STILL, powered=0, faults=GUARD_OPENED, guardClosed=0), *asked("ClearFaults", DONE, **clear(1011)),
             state(faults=GUARD_OPENED), *asked("Move", FAULTED, **move(1012)), world("guard", 1), wait(100),
             *asked("ClearFaults", DONE, **clear(1013)), state(faults=0, guardClosed=1, motion=STILL),
             begin="ready", needs=["Motion", "Guard"], moves=True, acts_on=["guard"]),
        talk("the guard opened at standstill is an event, no fault, and forbids motion", 10,
             world("guard", 0), expect("Event", 150, code=3), state(faults=0, guardClosed=0), *asked("Move", GUARD_OPEN, **move(1010)),
             world("guard", 1), expect("Event", 150, code=4), state(faults=0, guardClosed=1),
             begin="ready", needs=["Motion", "Guard"], moves=True, acts_on=["guard"]),
    ]


def channels():
    """A channel of the device is the first one: 0."""
    channel = lambda command, on=0, which=0: dict(command=command, channel=which, on=on)
    off = [*asked("Stream", DONE, **stream(1090)), *asked("Channel", DONE, **channel(1091))]
    values = expect("ChannelSamples", 1500, bootNumber="boot", channel=0)
    return [
        talk("a device without further channels does not know their command", 15,
             *asked("Channel", UNKNOWN_TYPE, **channel(1010, on=1)), *asked("Stream", DONE, **stream(1011, on=1)),
             never("ChannelSamples", 250), *asked("Stream", DONE, **stream(1012)), lacks=["Channels"]),
        talk("a channel is described whenever its command is taken", 20,
             send("Channel", **channel(1010)), expect("ChannelDescription", bootNumber="boot", channel=0, usable=1), answer(1010, "Channel", DONE),
             send("Channel", **channel(1011)), expect("ChannelDescription", bootNumber="boot", channel=0), answer(1011, "Channel", DONE),
             needs=["Channels"]),
        talk("the same number again is answered, and nothing is described", 20,
             *asked("Channel", DONE, **channel(1010)), send("Channel", **channel(1010)), answer(1010, "Channel", DONE),
             never("ChannelDescription", 200), needs=["Channels"]),
        talk("a channel that there is not, or a command that is too short, is a bad value", 20,
             *asked("Channel", BAD_VALUE, **channel(1010, which=8)), send("Channel", cut=1, **channel(1011)), answer(1011, "Channel", BAD_VALUE),
             never("ChannelDescription", 200), needs=["Channels"]),
        talk("values come while both stream and channel are on", 20,
             *asked("Channel", DONE, **channel(1010, on=1)), never("ChannelSamples", 300), *asked("Stream", DONE, **stream(1011, on=1)), values,
             *asked("Stream", DONE, **stream(1012)), wait(100), send("Stream", **stream(1013)), never("ChannelSamples", 300),
             *asked("Stream", DONE, **stream(1014, on=1)), values, *asked("Channel", DONE, **channel(1015)), wait(100),
             send("Channel", **channel(1016)), never("ChannelSamples", 300), *off, needs=["Channels"]),
        talk("a host that does not ask for channels gets none", 20,
             *asked("Stream", DONE, **stream(1010, on=1)), never("ChannelSamples", 300), state(samples=1), *off, needs=["Channels"]),
    ]


def converter_in_motion(name, what, wrong, right, within):
    """A converter that goes wrong while something moves: stopped, powered, latched until it has been right for six conversions."""
    return talk(name, 10,
                *asked("Move", DONE, **move(1010)), state(motion=MOVING), world(what, wrong), expect("Event", within, code=2, detail=CONVERTER),
                expect("Event", 300, code=7), state(motion=STILL, powered=1, faults=CONVERTER), *asked("Move", FAULTED, **move(1011)),
                *asked("ClearFaults", DONE, **clear(1012)), state(faults=CONVERTER), world(what, right), wait(1500),
                *asked("ClearFaults", DONE, **clear(1013)), state(faults=0, motion=STILL),
                begin="ready", needs=["Motion"], moves=True, acts_on=[what])


def converters():
    return [
        converter_in_motion("a converter that falls silent in motion stops it", "converter", 0, 1, 400),
        converter_in_motion("a converter that repeats itself in motion stops it", "stuck", 1, 0, 1500),
        converter_in_motion("a converter of which every second conversion is missing stops the motion", "starve", 2, 0, 1500),
    ]


def conversations():
    return dict(begins=BEGINS, conversations=numbers() + stops() + refusals() + lives() + motions() + events_and_guard() + converters() + channels())
