#!/usr/bin/env python3
"""Offers the embedded broker of a running demo what a hostile neighbour would: persistent sessions without end, and a gigabyte of retained messages.

Starts a demo of its own (virtual rig over a pseudo-terminal), floods its broker, and prints what it cost: memory, pulls, holds, and how long a stop took.
Only the standard library is used.

    python3 tools/load/broker_flood.py path/to/rigdaq.dll [--sessions 1500] [--retained 1000] [--seconds 60]
"""
import argparse
import json
import os
import re
import shutil
import socket
import struct
import subprocess
import tempfile
import threading
import time
import urllib.request


def text(value):
    raw = value.encode()
    return struct.pack("!H", len(raw)) + raw


def packet(kind, body):
    head, length = bytes([kind]), len(body)
    while True:
        part, length = length & 0x7F, length >> 7
        head += bytes([part | (0x80 if length else 0)])
        if not length:
            return head + body


def connect(port, name, clean):
    line = socket.create_connection(("127.0.0.1", port), timeout=10)
    line.sendall(packet(0x10, text("MQTT") + bytes([4, 2 if clean else 0]) + struct.pack("!H", 60) + text(name)))
    answer = line.recv(4)
    return line, len(answer) == 4 and answer[3] == 0


def leave_session(port, name):
    """A session that stays behind, subscribed to everything."""
    line, taken = connect(port, name, clean=False)
    if taken:
        line.sendall(packet(0x82, struct.pack("!H", 1) + text("#") + b"\x01"))
        line.recv(5)
    line.close()
    return taken


def offer_retained(port, count, size):
    """Retained messages, each under a topic of its own; a connection that is ended is opened again."""
    offered, line = 0, None
    for i in range(count):
        try:
            if line is None:
                line, _ = connect(port, f"retainer-{i}", clean=True)
            line.sendall(packet(0x31, text(f"flood/{i}") + bytes(size)))
            offered += 1
        except OSError:
            line = None
    return offered


class Demo:
    def __init__(self, program, folder, time_scale):
        self.words = []
        self.process = subprocess.Popen(
            ["dotnet", program, "demo", "--http", "0", "--mqtt", "0", "--data", os.path.join(folder, "data"), "--time-scale", str(time_scale)],
            stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True)
        threading.Thread(target=self._read, daemon=True).start()
        self.url = self.said(r"Dashboard: (http://127\.0\.0\.1:\d+)")
        self.mqtt = int(self.said(r"MQTT: 127\.0\.0\.1:(\d+)"))

    def _read(self):
        for line in self.process.stderr:
            self.words.append(line)

    def said(self, pattern, seconds=120):
        end = time.time() + seconds
        while time.time() < end:
            for line in self.words:
                found = re.search(pattern, line)
                if found:
                    return found.group(1)
            time.sleep(0.05)
        raise SystemExit(f"it did not say {pattern}: {''.join(self.words)}")

    def megabytes(self):
        with open(f"/proc/{self.process.pid}/status", encoding="ascii") as status:
            return next(int(line.split()[1]) for line in status if line.startswith("VmRSS")) / 1024

    def pulls(self):
        return sum(1 for line in self.words if re.match(r"\s*\d+ of \d+", line) or re.search(r"specimen .*: (broken|partly|slipped)", line, re.I))

    def held(self):
        return sum("Sequence held" in line for line in self.words)

    def stop(self):
        began = time.time()
        urllib.request.urlopen(urllib.request.Request(self.url + "/api/stop", method="POST", data=b""), timeout=30).read()
        return time.time() - began

    def end(self):
        self.process.terminate()
        return self.process.wait(60)


class Most:
    """The greatest of a value, looked at ten times a second from now on, the flood itself included."""

    def __init__(self, look):
        self.value = look()
        threading.Thread(target=self._go_on, args=(look,), daemon=True).start()

    def _go_on(self, look):
        while True:
            try:
                self.value = max(self.value, look())
            except (OSError, StopIteration):
                return
            time.sleep(0.1)


def main():
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("program")
    ask.add_argument("--sessions", type=int, default=1500)
    ask.add_argument("--retained", type=int, default=1000)
    ask.add_argument("--bytes", type=int, default=1 << 20)
    ask.add_argument("--seconds", type=float, default=60)
    ask.add_argument("--time-scale", type=float, default=10)
    given = ask.parse_args()
    folder = tempfile.mkdtemp(prefix="rigdaq-flood-")
    demo = Demo(given.program, folder, given.time_scale)
    try:
        demo.said(r"(1 of \d+|[Ss]pecimen )", 300)
        calm = demo.megabytes()
        most = Most(demo.megabytes)
        began, lines = time.time(), len(demo.words)
        taken = sum(leave_session(demo.mqtt, f"session-{i}") for i in range(given.sessions))
        flooded = time.time() - began
        offered = offer_retained(demo.mqtt, given.retained, given.bytes)
        # The same again in messages that the broker takes.
        fitting = offer_retained(demo.mqtt, given.retained, 100_000)
        while time.time() - began < given.seconds:
            time.sleep(0.5)
        print(json.dumps({
            "sessionsOffered": given.sessions, "connectionsTaken": taken, "floodSeconds": round(flooded, 1),
            "retainedSent": offered, "retainedFittingSent": fitting,
            "megabytesBefore": round(calm), "megabytesMost": round(most.value), "megabytesAfter": round(demo.megabytes()),
            "specimensSince": len(demo.words) - lines, "heldAll": demo.held(),
            "load": os.getloadavg()[0],
        }))
        stops = sorted(demo.stop() for _ in range(20))
        print(json.dumps({"stopSecondsMedian": round(stops[10], 3), "stopSecondsWorst": round(stops[-1], 3)}))
    finally:
        print(json.dumps({"exit": demo.end()}))
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
