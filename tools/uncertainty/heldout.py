#!/usr/bin/env python3
"""Load cells, converters and benches that nothing was mended upon: other equations than cells.py, the same lines.

    python3 heldout.py --per-kind 600 --seed 20270120 > heldout.jsonl

Bends are a cube, a kink, a saturation, a slow wave; converters cut off instead of rounding, filter, or have long-tailed noise; zeros creep in like a
cell that warms up; weights are all wrong the same way; steps are uneven. Only Python's standard library is used.
"""
import argparse, json, math, random

SENSITIVITY = 1873.0     # counts a newton
TOP = 74.0               # newtons, the greatest reference
EVEN = [0.2, 0.4, 0.6, 0.8, 1.0]


def terminal(f):
    """A curve less its end points' line, scaled to a greatest departure of 1."""
    line = lambda x: f(x) - f(0) - x * (f(1) - f(0))
    depth = max(abs(line(i / 400)) for i in range(401))
    return lambda x: line(x) / depth


BENDS = {
    "cube": terminal(lambda x: x ** 3),
    "kink": terminal(lambda x: max(0.0, x - 0.45)),
    "saturation": terminal(lambda x: 1 - math.exp(-2.5 * x)),
    "wave": terminal(lambda x: math.sin(2 * math.pi * x)),
}

KINDS = {
    # bend, depth in per cent of full scale (uniform), sheet (None: not told), full scale over the greatest reference
    "cube within 0.1 %": dict(bend="cube", depth=0.1),
    "kink within 0.05 %": dict(bend="kink", depth=0.05),
    "saturation within 0.15 %, sheet says so": dict(bend="saturation", depth=0.15, sheet=0.15),
    "slow wave within 0.05 %": dict(bend="wave", depth=0.05),
    "saturation within its sheet, beyond": dict(bend="saturation", depth=0.03, sheet=0.03, over=4.0, at=(1.5, 2.5, 3.8)),
    "cube within its sheet, beyond": dict(bend="cube", depth=0.03, sheet=0.03, over=4.0, at=(1.5, 2.5, 3.8)),
    "straight, beyond, sheet": dict(sheet=0.03, over=4.0, at=(1.5, 2.5, 3.8)),
    "weights all at one limit, M1": dict(one_limit=5e-5),
    "weights all at one limit, M2": dict(one_limit=1.6e-4),
    "uneven steps": dict(steps=[0.05, 0.1, 0.3, 0.35, 0.7, 1.0], noise=40),
    "two series": dict(series=2, noise=40),
    "six series, hung badly": dict(series=6, hang=0.1),
    "noise with long tails": dict(noise=50, tails=True),
    "noise that grows with the force": dict(noise=15, growing=150),
    "cut off in steps of 128": dict(noise=10, cut=128),
    "cut off in steps of 128, zero that stays": dict(noise=10, cut=128, wander=3),
    "rounded to 64, zero that stays, no windows": dict(noise=5, rounded=64, wander=3, windows=False),
    "rounded to 512, two series": dict(noise=60, rounded=512, series=2),
    "filtering converter": dict(noise=60, filtered=0.8),
    "zero that warms up": dict(warm_up=150),
    "gap after another history": dict(gap=0.08, history=True),
    "gap of a lopsided loop, coming down": dict(gap=0.12, way="falling"),
    "lever of 0.1 %": dict(lever=1e-3),
    "temperature drawn from a year, entered": dict(year=True),
    # Added later, when what the windows under load show was made use of: at the end, so that the draws of the others stay.
    "noise that grows, windows under load told": dict(noise=15, growing=150, ranges=True),
    "noise that grows to twice, windows told": dict(noise=40, growing=70, ranges=True),
}


def make(name, r):
    k = KINDS[name]
    steps = k.get("steps", EVEN)
    noise, over = k.get("noise", 12), k.get("over", 1.0)
    bend = BENDS.get(k.get("bend"))
    depth = r.uniform(-1, 1) * k.get("depth", 0) / 100 * TOP * over
    gap = r.choice((-1, 1)) * k.get("gap", 0) / 100 * TOP
    nominal = [round(s * TOP, 4) for s in steps]
    # References: a bias that all share, and each further weight's own.
    shared = r.gauss(0, 3e-5) + (r.choice((-1, 1)) * k["one_limit"] if "one_limit" in k else 0)
    if "lever" in k:
        shared += r.gauss(0, k["lever"] / 2)
    limit = 0 if "one_limit" in k else 5e-5
    true, at = [], 0.0
    for before, now in zip([0.0] + nominal, nominal):
        at += (now - before) * (1 + shared + r.uniform(-limit, limit))
        true.append(at)
    own = k.get("one_limit", 5e-5) / math.sqrt(3)
    relative = math.sqrt(9e-10 + own ** 2 + (k.get("lever", 0) / 2) ** 2)

    def felt(force, coming_down=False, memory=0.0):
        x = force / (TOP * over)
        out = force + (depth * bend(x) if bend else 0.0)
        loop = min(1.0, force / TOP)
        if coming_down:
            out += gap * 6.75 * loop * (1 - loop) ** 2     # a lopsided loop, greatest at a third
        return out + memory * gap * 6.75 * loop * (1 - loop) ** 2

    def sample(counts, force=0.0):
        wide = math.hypot(noise, k.get("growing", 0) * force / TOP)
        error = r.gauss(0, wide)
        if k.get("tails"):
            error = wide * r.gauss(0, 1) / math.sqrt(r.gammavariate(2.0, 1.0)) * 0.7     # t of four degrees of freedom, its variance kept about
        return grid(counts + error)

    def grid(counts):
        if "cut" in k:
            return math.floor(counts / k["cut"]) * k["cut"]
        if "rounded" in k:
            return round(counts / k["rounded"]) * k["rounded"]
        return round(counts)

    def window(counts, force=0.0, many=120):
        values, last = [], None
        for _ in range(many):
            value = sample(counts, force)
            if "filtered" in k:
                last = value if last is None else k["filtered"] * last + (1 - k["filtered"]) * value
                value = round(last)
            values.append(value)
        return values

    rows, resting = [], 40000 + r.uniform(-2000, 2000)
    wander = k.get("wander", 900)
    series = k.get("series", 3)
    for s in range(1, series + 1):
        zero = resting + r.uniform(-wander, wander)
        late = k.get("warm_up", 0) * r.uniform(-1, 1)
        drift = lambda t: late * (1 - math.exp(-2 * t))
        first = window(zero)
        rows.append([s, "rising", 0, sum(first) / len(first), None, max(first[:80]) - min(first[:80]) if k.get("windows", True) else None])
        for i, force in enumerate(true):
            hung = felt(force) * (1 + r.gauss(0, k.get("hang", 0) / 100))
            w = window(zero + drift((i + 1) / len(true)) + SENSITIVITY * hung, force)
            rows.append([s, "rising", nominal[i], sum(w) / len(w), relative * nominal[i], max(w[:80]) - min(w[:80]) if k.get("ranges") else None])
        if s == series:
            for i in range(len(true) - 2, -1, -1):
                w = window(zero + drift(1) + SENSITIVITY * felt(true[i], True), true[i])
                rows.append([s, "falling", nominal[i], sum(w) / len(w), relative * nominal[i], None])
        w = window(zero + drift(1))
        rows.append([s, "falling", 0, sum(w) / len(w), None, None])

    warm = (10 * math.sin(r.uniform(0, 2 * math.pi)) * 0.008 / 100) if k.get("year") else 0.0
    points = []
    for share in k.get("at", (0.25, 0.5, 0.95)):
        force = share * TOP
        zero = resting + r.uniform(-wander, wander)
        memory = r.uniform(0, 0.05) if k.get("history") else 0.0
        counts = zero + SENSITIVITY * felt(force, k.get("way") == "falling", memory) * (1 + warm)
        if "warm_up" in k:
            counts += k["warm_up"] * r.uniform(-1, 1) * (1 - math.exp(-2 * r.random()))
        rest = window(zero)
        read = window(counts, force, 40)[-1] if "filtered" in k else sample(counts, force)
        points.append(dict(share=share, deflection=read - sum(rest) / len(rest), force=force, way=k.get("way", "rising")))

    told = dict(fullScaleNewtons=TOP * over, temperatureSpreadKelvin=0)
    if k.get("year"):
        told.update(temperaturePercentPerKelvin=0.008, temperatureSpreadKelvin=10)
    if "sheet" in k:
        told["nonLinearityPercent"] = k["sheet"]
    return dict(kind=name, degree=1, told=told, rows=rows, points=points)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--per-kind", type=int, default=600)
    parser.add_argument("--seed", type=int, default=20270120)
    options = parser.parse_args()
    short = lambda value: float("%.9g" % value) if isinstance(value, float) else value
    for number, name in enumerate(KINDS):
        r = random.Random(options.seed * 1000 + number)
        for _ in range(options.per_kind):
            made = make(name, r)
            made["rows"] = [[short(cell) for cell in row] for row in made["rows"]]
            made["points"] = [{key: short(value) for key, value in point.items()} for point in made["points"]]
            print(json.dumps(made, separators=(",", ":")))


if __name__ == "__main__":
    main()
