#!/usr/bin/env python3
"""Keeps every core busy beside a sequence on the virtual rig, and counts what a person would have to clear.

A demo breaks specimens over a pseudo-terminal while as many loops as there are cores (and one more) do nothing but count. Whenever the sequence is held it is written down with its
reason, faults are cleared and the sequence is resumed, as a person would. Only the standard library is used.

    python3 tools/load/busy_machine.py path/to/rigdaq.dll [--minutes 10] [--nice -10] [--time-scale 4]
"""
import argparse
import json
import os
import re
import shutil
import subprocess
import tempfile
import threading
import time
import urllib.error
import urllib.request


def main():
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("program")
    ask.add_argument("--minutes", type=float, default=10)
    ask.add_argument("--nice", type=int, default=None, help="what serve gives itself where it may: -10")
    ask.add_argument("--time-scale", type=float, default=4)
    ask.add_argument("--breaks", type=int, default=200)
    given = ask.parse_args()
    folder = tempfile.mkdtemp(prefix="rigdaq-busy-")
    words, holds = [], []
    command = ["dotnet", given.program, "demo", "--http", "0", "--mqtt", "0", "--data", os.path.join(folder, "data"),
               "--time-scale", str(given.time_scale), "--breaks", str(given.breaks)]
    if given.nice is not None:
        command = ["nice", "-n", str(given.nice - os.nice(0)), *command]
    demo = subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True)

    def read():
        for line in demo.stderr:
            words.append(line)
            if "Sequence held" in line:
                holds.append(line.split("Sequence held:", 1)[-1].strip())

    threading.Thread(target=read, daemon=True).start()

    def said(pattern, seconds):
        end = time.time() + seconds
        while time.time() < end:
            for line in words:
                found = re.search(pattern, line)
                if found:
                    return found
            time.sleep(0.1)
        raise SystemExit(f"it did not say {pattern}: {''.join(words)}")

    found = said(r"Dashboard: (http://127\.0\.0\.1:(\d+))/#key=(\w+)", 120)
    url, port, key = found.groups()

    def post(name):
        request = urllib.request.Request(f"{url}/api/v1/rigs/-/{name}", method="POST", data=b"",
                                         headers={"Origin": url, "Cookie": f"rigdaq-{port}={key}"})
        try:
            return urllib.request.urlopen(request, timeout=30).status
        except urllib.error.HTTPError as refused:
            return refused.code

    # Calibrating, homing: the load begins with the first specimen.
    broken = r"\d+ of \d+"
    said(broken, 600)
    loads = [subprocess.Popen(["sh", "-c", "while :; do :; done"]) for _ in range(os.cpu_count() + 1)]
    began, first, cleared = time.time(), sum(1 for line in words if re.search(broken, line)), 0
    try:
        while time.time() - began < given.minutes * 60 and demo.poll() is None:
            time.sleep(1)
            if len(holds) > cleared:
                cleared = len(holds)
                time.sleep(1)
                post("faults/clear")
                time.sleep(0.5)
                post("home")
                time.sleep(3)
                post("sequence/resume")
        pulls = sum(1 for line in words if re.search(broken, line)) - first
        stops = []
        for _ in range(5):
            at = time.time()
            post("stop")
            stops.append(time.time() - at)
        print(json.dumps({
            "minutes": round((time.time() - began) / 60, 1), "cores": os.cpu_count(), "loops": len(loads), "nice": given.nice, "timeScale": given.time_scale,
            "pulls": pulls, "holds": len(holds) - (1 if stops and len(holds) > cleared else 0), "reasons": holds[:10],
            "stopSecondsWorst": round(max(stops), 3), "load": os.getloadavg()[0],
        }, indent=1))
    finally:
        for load in loads:
            load.kill()
        if demo.poll() is None:
            demo.terminate()
            demo.wait(60)
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
