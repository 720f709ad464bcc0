#!/usr/bin/env python3
"""Starts a sequence on a virtual rig, waits for a few breaks and draws their traces.

    python3 pull.py ADDRESS BREAKS PICTURE     ADDRESS as the daemon printed it, with #key=... behind it

Wants Python 3 and matplotlib. On a real rig whoever starts a sequence stands beside it, has read the cautions and can reach the stop.
"""
import json, sys, time, urllib.error, urllib.parse, urllib.request
import matplotlib
matplotlib.use("Agg")
from matplotlib import pyplot

address, breaks, picture = urllib.parse.urldefrag(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
base, key = address.url.rstrip("/"), urllib.parse.parse_qs(address.fragment)["key"][0]
browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
browser.addheaders = [("Origin", base)]


def ask(path, body=None):
    """What the daemon answers; its problem (RFC 9457) as an error with its words."""
    request = urllib.request.Request(base + "/api/v1" + path, None if body is None else json.dumps(body).encode())
    try:
        return json.load(browser.open(request, timeout=30))
    except urllib.error.HTTPError as refused:
        raise SystemExit(json.load(refused)["detail"])


ask("/session", {"key": key})
rig = "/rigs/" + urllib.parse.quote(ask("")["rigs"][0]["name"], safe="")
state = ask(rig + "/state")
if not state["device"]["simulated"]:
    raise SystemExit("This is a real rig: what the example answers for a person, a person must answer there.")
# Another sequence is ended between two pulls: in the middle of one its piece would stay in the grips, under force, and the next zero with it.
while state["sequence"] and state["sequence"]["stage"] not in ("waiting for specimen", "held", "finished"):
    time.sleep(0.02)
    state = ask(rig + "/state")
if state["sequence"] and state["sequence"]["stage"] != "finished":
    ask(rig + "/sequence/finish", {})
before = {run["runId"] for run in ask("/runs")["runs"]}
ask(rig + "/sequence", {"cautionsRead": True, "acceptBeyondCalibration": True, "emergencyStopTested": True})
while len(new := [run for run in ask("/runs")["runs"] if run["runId"] not in before]) < breaks:
    sequence = ask(rig + "/state")["sequence"]
    if sequence["stage"] == "held":
        raise SystemExit("Held: " + sequence["reason"])
    if sequence["needsOpenGrip"]:
        ask(rig + "/grip/open", {})
    time.sleep(0.5)
ask(rig + "/sequence/finish", {})
for run in new:
    samples = ask(f"/runs/{run['runId']}/samples")
    pyplot.plot(samples["timeSeconds"], samples["forceNewtons"], label=run["specimenId"])
pyplot.xlabel("time / s"), pyplot.ylabel("force / N"), pyplot.legend()
pyplot.savefig(picture)
print(f"{len(new)} breaks drawn in {picture}")
