#!/usr/bin/env python3
"""Virtual load cells for the coverage of a calibrated force's uncertainty, written apart from the program's own code.

    python3 cells.py --per-kind 600 --seed 20261130 > cells.jsonl

Each line is one calibration: the readings as a table would hold them, what a person knows of the cell, and forces that are read
afterwards with the truth beside them. The truth is drawn anew for each: weights within their class (OIML R 111-1 limits, from
memory), gravity within 5e-5, hanging, noise, drift, creep, hysteresis, the bend of the cell and the temperature of the day.
Only Python's standard library is used.
"""
import argparse, json, math, random

G = 9.8120
COUNTS_PER_NEWTON = 2000.0
WINDOW = 160  # samples a reading's mean is taken over


def uniform(r, half):
    return r.uniform(-half, half)


def bow(x):
    """A parabola of depth 1 at mid-scale, nothing at the ends."""
    return 4 * x * (1 - x)


def ess(x):
    """An S of depth 1 either way, nothing at the ends and in the middle."""
    return x * (1 - x) * (1 - 2 * x) / 0.09622504486493763


KINDS = {}


def kind(name, **settings):
    base = dict(
        full_scale=None,      # of the cell, as a multiple of the greatest reference; None: 1
        bow=0.0, ess=0.0,     # depth in per cent of full scale: uniform within +-
        sheet=None,           # what the data sheet says, per cent of full scale
        tell_scale=True,      # whether full scale is entered
        noise=10.0, step=1, hang=0.0, hysteresis=0.0, creep=0.0, drift=0.0,
        temperature=None,     # (per cent per kelvin, kelvin either way) of the truth
        temperature_told="none",  # none: spread 0 is entered; truth; untold: nothing is entered
        mpe=5e-5,             # of a weight, relative, rectangular: class M1
        series=3, falling=True, zero_return=True, way="rising", degree=1,
        shares=(0.25, 0.5, 0.95), steps=(0.2, 0.4, 0.6, 0.8, 1.0))
    for key in settings:
        assert key in base, key
    base.update(settings)
    KINDS[name] = base


kind("straight, quiet, weights M1", noise=1)
kind("straight, quiet, weights M3", noise=1, mpe=5e-4)
kind("straight, noise", noise=60)
kind("straight, much noise", noise=400)
kind("straight, one rising series", noise=20, series=1)
kind("straight, four steps", noise=20, steps=(0.25, 0.5, 0.75, 1.0))
kind("bowed within 0.2 %", bow=0.2)
kind("bowed within 0.2 %, noise", bow=0.2, noise=100)
kind("bowed within 0.05 %", bow=0.05)
kind("bowed within 0.2 %, sheet says so", bow=0.2, sheet=0.2)
kind("S-shaped within 0.1 %", ess=0.1)
kind("bowed within 0.2 %, degree 2", bow=0.2, degree=2)
kind("bowed within 0.2 %, beyond, no sheet", bow=0.2, full_scale=2.0, tell_scale=False, shares=(1.2, 1.5, 2.0))
kind("bowed within 0.2 %, beyond, scale told", bow=0.2, full_scale=2.0, shares=(1.2, 1.5, 2.0))
kind("bowed within its sheet, far beyond", bow=0.05, sheet=0.05, full_scale=10.0, shares=(3.0, 5.0, 8.0))
kind("S-shaped within its sheet, far beyond", ess=0.05, sheet=0.05, full_scale=10.0, shares=(3.0, 5.0, 8.0))
kind("straight, far beyond, sheet", sheet=0.05, full_scale=10.0, shares=(3.0, 5.0, 8.0))
kind("bowed within 0.2 %, beyond, degree 2", bow=0.2, full_scale=2.0, degree=2, shares=(1.2, 1.5, 2.0))
kind("temperature, nothing entered", temperature=(0.01, 10), temperature_told="untold")
kind("temperature, entered", temperature=(0.01, 10), temperature_told="truth")
kind("steps of 200 counts, noise 20", noise=20, step=200)
kind("steps of 50 counts, noise 20", noise=20, step=50)
kind("steps of 1000 counts, noise 20", noise=20, step=1000)
kind("hysteresis 0.2 %, rising", hysteresis=0.2)
kind("hysteresis 0.2 %, on the way back", hysteresis=0.2, way="falling")
kind("hanging anew 0.2 %", hang=0.2)
kind("drift of the zero 200 counts", drift=200)
kind("drift of the zero 200 counts, no return read", drift=200, zero_return=False)
kind("all together", noise=12, hang=0.01, hysteresis=0.03, drift=15)


# Cells that are bent by about what their references can just show: not among the 29 of the table, made with --more.
FIRST = list(KINDS)
kind("bowed within 0.02 %, weights M3", bow=0.02, noise=1, mpe=5e-4)
kind("bowed within 0.05 %, weights M3", bow=0.05, noise=1, mpe=5e-4)
kind("bowed within 0.1 %, weights M3", bow=0.1, noise=1, mpe=5e-4)
kind("S-shaped within 0.05 %, weights M3", ess=0.05, noise=1, mpe=5e-4)
kind("bowed within 0.05 %, hanging anew 0.2 %", bow=0.05, hang=0.2)
kind("bowed within 0.1 %, hanging anew 0.2 %", bow=0.1, hang=0.2)
kind("S-shaped within 0.1 %, hanging anew 0.2 %", ess=0.1, hang=0.2)
kind("bow and S within 0.1 %", bow=0.1, ess=0.1)
MORE = [name for name in KINDS if name not in FIRST]


def calibration(name, r):
    k = KINDS[name]
    # Five weights of one nominal mass; forces add up on the hook.
    greatest = 98.12
    steps = k["steps"]
    nominal = [s * greatest for s in steps]
    pieces = [b - a for a, b in zip([0] + nominal, nominal)]
    real_g = G * (1 + r.gauss(0, 5e-5))
    real = []
    total = 0.0
    for piece in pieces:
        total += piece * (1 + uniform(r, k["mpe"])) * real_g / G
        real.append(total)
    # Stated with one standard uncertainty a force: gravity and weights together, as a person would put them down.
    stated = [math.hypot(5e-5 * f, math.sqrt(sum((p * k["mpe"]) ** 2 for p in pieces[:i + 1]) / 3)) for i, f in enumerate(nominal)]

    scale = greatest * (k["full_scale"] or 1.0)
    depth_bow, depth_ess = uniform(r, k["bow"]), uniform(r, k["ess"])

    def cell(force):
        x = force / scale
        return force + scale * (depth_bow * bow(x) + depth_ess * ess(x)) / 100

    warm = uniform(r, k["temperature"][1]) * k["temperature"][0] / 100 if k["temperature"] else 0.0
    gap = k["hysteresis"] / 100 * greatest

    def lag(force, top):
        x = min(1.0, force / top)
        return gap * 4 * x * (1 - x)

    def digits(counts):
        return round(counts / k["step"]) * k["step"]

    def mean(counts):
        """The mean of a still window; coarse steps with little noise stay coarse."""
        if k["step"] == 1:
            return counts + r.gauss(0, k["noise"] / math.sqrt(WINDOW))
        return sum(digits(counts + r.gauss(0, k["noise"])) for _ in range(WINDOW)) / WINDOW

    def range_of(counts):
        window = [digits(counts + r.gauss(0, k["noise"])) for _ in range(80)]
        return max(window) - min(window)

    rows = []
    for s in range(1, k["series"] + 1):
        zero = 81000 + r.uniform(-500, 500)
        drift = uniform(r, k["drift"])
        rows.append([s, "rising", 0, mean(zero), None, range_of(zero)])
        for i, force in enumerate(real):
            hung = cell(force) * (1 + r.gauss(0, k["hang"] / 100))
            at = zero + drift * (i + 1) / (len(real) + 2) + COUNTS_PER_NEWTON * hung
            rows.append([s, "rising", nominal[i], mean(at), stated[i], None])
        if s == k["series"] and k["falling"]:
            for i in range(len(real) - 2, -1, -1):
                hung = cell(real[i]) * (1 + r.gauss(0, k["hang"] / 100)) + lag(real[i], real[-1])
                rows.append([s, "falling", nominal[i], mean(zero + drift + COUNTS_PER_NEWTON * hung), stated[i], None])
        if k["zero_return"]:
            rows.append([s, "falling", 0, mean(zero + drift), None, None])

    points = []
    for share in k["shares"]:
        force = share * greatest
        zero = 81000 + r.uniform(-500, 500)
        felt = cell(force) * (1 + warm) + k["creep"] / 100 * force * r.random()
        if k["way"] == "falling":
            felt += lag(force, greatest)
        counts = zero + COUNTS_PER_NEWTON * felt + uniform(r, k["drift"]) * r.random()
        points.append(dict(share=share, deflection=digits(counts + r.gauss(0, k["noise"])) - mean(zero), force=force, way=k["way"]))

    told = {}
    if k["tell_scale"]:
        told["fullScaleNewtons"] = scale
    if k["sheet"] is not None:
        told["nonLinearityPercent"] = k["sheet"]
    if k["temperature_told"] == "none":
        told["temperatureSpreadKelvin"] = 0
    elif k["temperature_told"] == "truth":
        told["temperaturePercentPerKelvin"], told["temperatureSpreadKelvin"] = k["temperature"]
    return dict(kind=name, degree=k["degree"], told=told, rows=rows, points=points)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--per-kind", type=int, default=600)
    parser.add_argument("--seed", type=int, default=20261130)
    parser.add_argument("--more", action="store_true", help="the kinds that are bent by about what their references can just show, instead of the 29")
    parser.add_argument("--digits", type=int, default=12, help="significant digits kept")
    options = parser.parse_args()
    keep = "%%.%dg" % options.digits

    def short(value):
        return float(keep % value) if isinstance(value, float) else value

    for number, name in enumerate(KINDS):
        if name not in (MORE if options.more else FIRST):
            continue
        r = random.Random(options.seed * 1000 + number)
        for _ in range(options.per_kind):
            made = calibration(name, r)
            made["rows"] = [[short(cell) for cell in row] for row in made["rows"]]
            made["points"] = [{key: short(value) for key, value in point.items()} for point in made["points"]]
            print(json.dumps(made, separators=(",", ":")))


if __name__ == "__main__":
    main()
