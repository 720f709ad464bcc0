"""What people have, with a person at its handle, on a pseudo-terminal whose name is printed first.

    plain_device.py lines SPEED      a sketch that prints `milliseconds,counts` 80 times a second of its own
                                     clock, which runs SPEED times faster than the wall's
    plain_device.py queries SPEED    a bench instrument that answers *IDN? and READ? (newtons)

Standard input moves the world: `hang N` hangs weights, `turn N` turns the handle until N newtons
part the specimen, `leave` leaves it."""
import os
import random
import select
import sys
import time
import tty

PERIOD_SECONDS, RATE_NEWTONS_PER_SECOND = 0.0125, 40
ZERO_COUNTS, COUNTS_PER_NEWTON, NOISE_NEWTONS = 8400, 4000, 0.005

kind, speed = sys.argv[1], float(sys.argv[2])
ours, port = os.openpty()
tty.setraw(port)
os.set_blocking(ours, False)
print(os.ttyname(port), flush=True)
began, printed, hung, turned_at, strength, asked, commands = time.monotonic(), 0, 0.0, None, 0.0, b"", b""
random.seed(7)


def now():
    return (time.monotonic() - began) * speed


def newtons(at):
    turned = max(0.0, (at - turned_at) * RATE_NEWTONS_PER_SECOND) if turned_at is not None else 0.0
    return hung + (turned if turned < strength else 0.0) + random.gauss(0, NOISE_NEWTONS)


waiting = b""


def write(text):
    global waiting                              # a busy host reads late: nothing is lost for that
    waiting = (waiting + text.encode())[-65536:]
    try:
        waiting = waiting[os.write(ours, waiting):]
    except BlockingIOError:
        pass


while True:
    ready, _, _ = select.select([0, ours], [], [], 0.002)
    if 0 in ready:
        more = os.read(0, 4096)
        if not more:
            break
        *lines, commands = (commands + more).split(b"\n")
        for line in lines:
            word, *value = line.decode().split()
            if word == "hang":
                hung = float(value[0])
            elif word == "turn":
                turned_at, strength = now(), float(value[0])
            elif word == "leave":
                turned_at = None
    if ours in ready:
        *questions, asked = (asked + os.read(ours, 4096)).split(b"\n")
        for question in questions if kind == "queries" else []:
            if question == b"*IDN?":
                write("Kestrel Lane Workshop,Bench gauge,0017,1.0\n")
            elif question == b"READ?":
                write(f"{newtons(now()):+.4E}\n")
    while kind == "lines" and printed * PERIOD_SECONDS <= now():
        at = printed * PERIOD_SECONDS
        write(f"{round(at * 1000)},{round(ZERO_COUNTS + COUNTS_PER_NEWTON * newtons(at))}\r\n")
        printed += 1
