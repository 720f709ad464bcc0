#!/usr/bin/env python3
"""Makes variants of recorded curves that must not change what a person says of them: the ways in which loggers, converters and files differ.

    python3 tools/curves/vary.py FOLDER [VARIANT...] > variants.jsonl

FOLDER holds curves.csv (file, ending by eye, peak by eye) and the curves. One JSON object a line: kind (the variant), file, endings (those that
are right), low and high (what the greatest force may be read as, the recorder's zero in it; null where nothing was loaded), t, f, x.
Random numbers come from the variant's and the file's names: same call, same curves.
"""
import csv
import json
import os
import random
import sys

ANSWERS = {
    "broken": ["broken", "partly broken"],
    "broken in steps": ["broken", "partly broken"],
    "partly broken": ["broken", "partly broken"],
    "gradual": ["slipped out", "partly broken"],
    "unbroken": ["unbroken"],
    "no contact": ["no contact"],
}


def read(path):
    with open(path, encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    columns = [[float(row[name]) for row in rows] for name in ("time_s", "force_N")]
    places = [float(row["position_mm"]) for row in rows] if rows and "position_mm" in rows[0] else None
    return columns[0], columns[1], places


def picked(curve, kept):
    t, f, x = curve
    return [t[i] for i in kept], [f[i] for i in kept], None if x is None else [x[i] for i in kept]


def every(curve, rng, step):
    """So many times slower; the last sample stays, for what happens in it is part of the recording."""
    last = len(curve[0]) - 1
    return picked(curve, range((last - rng.randrange(3) * step) % step, last + 1, step))


def scaled(curve, factor, offset=0.0):
    return curve[0], [factor * value + offset for value in curve[1]], curve[2]


def digits(curve, count):
    return curve[0], [float("%.*g" % (count, value)) for value in curve[1]], curve[2]


def steps(curve, share):
    step = share * max(abs(value) for value in curve[1])
    return curve[0], [step * round(value / step) for value in curve[1]], curve[2]


def noisy(curve, rng, share):
    sigma = share * max(curve[1])
    return curve[0], [value + rng.gauss(0, sigma) for value in curve[1]], curve[2]


def held(curve, times):
    """A converter that is read more often than it converts."""
    t, f, x = curve
    gap = (t[-1] - t[0]) / (len(t) - 1) / times
    fine = [(t[i] + k * gap, f[i], None if x is None else x[i]) for i in range(len(t)) for k in range(times)]
    return [p[0] for p in fine], [p[1] for p in fine], None if x is None else [p[2] for p in fine]


def joined(curve, times):
    """A logger that fills in between by straight lines."""
    t, f, x = curve
    out = ([], [], None if x is None else [])
    for i in range(len(t) - 1):
        for k in range(times):
            w = k / times
            out[0].append(t[i] + w * (t[i + 1] - t[i]))
            out[1].append(f[i] + w * (f[i + 1] - f[i]))
            if x is not None:
                out[2].append(x[i] + w * (x[i + 1] - x[i]))
    return out


def uneven(curve, rng, share):
    t, f, x = curve
    gap = (t[-1] - t[0]) / (len(t) - 1)
    shifted = sorted(time + rng.uniform(-share, share) * gap / 2 for time in t)
    return shifted, f, x


def lost(curve, rng, share):
    n = len(curve[0])
    return picked(curve, [i for i in range(n) if i in (0, n - 1) or rng.random() >= share])


def wild(curve, rng, count):
    """Single wild conversions, of either sign, away from the top."""
    t, f, x = curve
    f = list(f)
    top = f.index(max(f))
    size = 2 * max(f) if max(f) > 0 else 100
    for _ in range(count):
        at = rng.randrange(10, len(f) - 10)
        if abs(at - top) > 20:
            f[at] += rng.choice([-1, 1]) * size * rng.uniform(0.5, 1)
    return t, f, x


def rested(curve, rng, seconds, after):
    """A recorder that was started early, or left running: what rests scatters as the recorder does."""
    t, f, x = curve
    gap = (t[-1] - t[0]) / (len(t) - 1)
    count = int(seconds / gap)
    level = f[-1] if after else f[0]
    sigma = noise_of(f)
    rest = [level + rng.gauss(0, sigma) for _ in range(count)]
    place = None if x is None else [x[-1] if after else x[0]] * count
    if after:
        return t + [t[-1] + (k + 1) * gap for k in range(count)], f + rest, None if x is None else x + place
    return [t[0] - (count - k) * gap for k in range(count)] + t, rest + f, None if x is None else place + x


def noise_of(f):
    bends = sorted(abs(f[i - 1] - 2 * f[i] + f[i + 1]) for i in range(1, len(f) - 1))
    return 1.4826 * bends[len(bends) // 2] / 6 ** 0.5


def smoothed(curve, count):
    """A recorder that averages so many samples."""
    t, f, x = curve
    half = count // 2
    return t, [sum(f[max(0, i - half):i + half + 1]) / len(f[max(0, i - half):i + half + 1]) for i in range(len(f))], x


def begins_loaded(curve, share):
    """Recorded from so much of the greatest force on: no zero."""
    f = curve[1]
    top = f.index(max(f))
    start = next(i for i in range(top + 1) if all(value >= share * max(f) for value in f[i:min(i + 5, top + 1)]))
    return picked(curve, range(start, len(f)))


def rests(curve):
    """Whether it begins with a second in which nothing is loaded: without one an offset cannot be told from a load."""
    t, f, _ = curve
    still = [value for time, value in zip(t, f) if time - t[0] <= 1]
    return max(still) - min(still) <= max(0.01 * (max(f) - min(f)), 6 * noise_of(f))


def stopped_sudden(curve, more):
    """Only where the greatest loss over two samples ends below half."""
    f = curve[1]
    greatest = max(f)
    top = f.index(greatest)
    at = max(range(top, len(f) - 2), key=lambda i: f[i] - f[i + 2])
    if f[at] - f[at + 2] < 0.35 * greatest or f[at + 2] > 0.5 * greatest:
        return None
    return picked(curve, range(min(len(f), at + 2 + more)))


VARIANTS = {
    "as it is": lambda c, r: c,
    "10 a second": lambda c, r: every(c, r, 2),
    "5 a second": lambda c, r: every(c, r, 4),
    "2 a second": lambda c, r: every(c, r, 10),
    "1 a second": lambda c, r: every(c, r, 20),
    "a thousandth": lambda c, r: scaled(c, 1e-3),
    "a thousand times": lambda c, r: scaled(c, 1e3),
    "pounds": lambda c, r: scaled(c, 1 / 4.4482216152605),
    "offset up": lambda c, r: scaled(c, 1, 0.4 * max(c[1])),
    "offset down": lambda c, r: scaled(c, 1, -0.4 * max(c[1])),
    "offset far": lambda c, r: scaled(c, 1, 7 * max(c[1])),
    "three digits": lambda c, r: digits(c, 3),
    "steps of 0.2 %": lambda c, r: steps(c, 0.002),
    "steps of 1 %": lambda c, r: steps(c, 0.01),
    "noise of 0.3 %": lambda c, r: noisy(c, r, 0.003),
    "noise of 1 %": lambda c, r: noisy(c, r, 0.01),
    "each read 4 times": lambda c, r: held(c, 4),
    "filled in": lambda c, r: joined(c, 5),
    "uneven": lambda c, r: uneven(c, r, 0.8),
    "a tenth lost": lambda c, r: lost(c, r, 0.1),
    "wild ones": lambda c, r: wild(c, r, 5),
    "started early": lambda c, r: rested(c, r, 60, False),
    "left running": lambda c, r: rested(c, r, 300, True),
    "averaged by 3": lambda c, r: smoothed(c, 3),
    "from a tenth on": lambda c, r: begins_loaded(c, 0.1),
    "from a third on": lambda c, r: begins_loaded(c, 0.33),
    "stops 2 after the break": lambda c, r: stopped_sudden(c, 2),
    "stops at the break": lambda c, r: stopped_sudden(c, 1),
    "stops 8 after the break": lambda c, r: stopped_sudden(c, 8),
    "clock of day": lambda c, r: ([time + 43_211.25 for time in c[0]], c[1], c[2]),
    "no position": lambda c, r: (c[0], c[1], None),
}

# What nobody can see any more, or what shows nothing where nothing was loaded.
NEEDS_ZERO = {"offset up", "offset down", "offset far"}
NEEDS_LOAD = {"from a tenth on", "from a third on", "stops 2 after the break", "stops at the break", "stops 8 after the break", "offset far",
              "noise of 0.3 %", "noise of 1 %", "steps of 0.2 %", "steps of 1 %", "wild ones"}


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    folder = sys.argv[1]
    names = sys.argv[2:] or list(VARIANTS)
    with open(os.path.join(folder, "curves.csv"), encoding="utf-8") as file:
        listed = list(csv.DictReader(file))
    for row in listed:
        curve = read(os.path.join(folder, row["file"]))
        loaded = row["ending_by_eye"] != "no contact"
        for name in names:
            if (not loaded and name in NEEDS_LOAD) or (name in NEEDS_ZERO and not rests(curve)):
                continue
            made = VARIANTS[name](curve, random.Random(f"{name}/{row['file']}"))
            if made is None:
                continue
            t, f, x = made
            low = high = None
            if loaded:
                # What was recorded is what can be seen; between two of few samples it went on as it rose.
                tolerance = 0.04 if row["file"].startswith("geo") else 0.01
                clean = curve[1] if name == "wild ones" else f
                span = max(clean) - min(clean)
                top = clean.index(max(clean))
                rise = max(0.0, clean[top] - clean[top - 1]) if top > 0 else 0.0
                tolerance += {"noise of 1 %": 0.03, "noise of 0.3 %": 0.01, "steps of 1 %": 0.01}.get(name, 0.0)
                low, high = max(clean) - tolerance * span, max(clean) + tolerance * span + rise
            endings = ANSWERS[row["ending_by_eye"]]
            if name.startswith("stops"):
                endings = ANSWERS["broken"] + (["slipped out"] if row["ending_by_eye"] == "gradual" else [])
            if name in ("noise of 1 %", "steps of 1 %") and row["ending_by_eye"] == "gradual":
                endings = endings + ["broken"]   # what is left at last, 5 % of the greatest force, is lost in them
            print(json.dumps({"kind": name, "file": row["file"], "endings": endings, "low": low, "high": high, "t": [round(v, 6) for v in t], "f": f, "x": x},
                             separators=(",", ":")))


if __name__ == "__main__":
    main()
