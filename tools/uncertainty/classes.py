#!/usr/bin/env python3
"""Class decisions of calibration tables by the definitions alone, apart from the program (ISO 7500-1, from memory; OIML R 65 has the same limits).

    python3 classes.py < cells.jsonl > classes.csv

reads what cells.py writes and gives the class of each calibration twice: with a resolution of one count whatever the step, and with the true step of
the converter. Only Python's standard library is used.
"""
import csv, json, sys
from cells import KINDS

LIMITS = [(0.5, 0.5, 0.5, 0.75, 0.05, 0.25), (1, 1, 1, 1.5, 0.1, 0.5), (2, 2, 2, 3, 0.2, 1), (3, 3, 3, 4.5, 0.3, 1.5)]


def curve(points, degree):
    """Least squares of force on deflection without a constant, normal equations in scaled deflections."""
    top = max(abs(x) for x, _ in points)
    rows = [[(x / top) ** (j + 1) for j in range(degree)] for x, _ in points]
    a = [[sum(r[i] * r[j] for r in rows) for j in range(degree)] + [sum(r[i] * y for r, (_, y) in zip(rows, points))] for i in range(degree)]
    for i in range(degree):
        pivot = a[i][i]
        a[i] = [value / pivot for value in a[i]]
        for k in range(degree):
            if k != i:
                a[k] = [value - a[k][i] * own for value, own in zip(a[k], a[i])]
    c = [a[i][degree] for i in range(degree)]
    return lambda x: sum(c[j] * (x / top) ** (j + 1) for j in range(degree))


def decision(made, step):
    zeros, rising, falling, returns, ranges = {}, [], [], [], []
    for series, direction, force, counts, stated, fluctuation in made["rows"]:
        if fluctuation is not None:
            ranges.append(fluctuation)
        if force == 0:
            if direction == "rising":
                zeros[series] = counts
            else:
                returns.append(counts - zeros[series])
        elif direction == "rising":
            rising.append((series, force, counts - zeros[series], stated))
        else:
            falling.append((series, force, counts - zeros[series]))
    forces = sorted({row[1] for row in rising})
    greatest = forces[-1]
    upper = [f for f in forces if f >= 0.198 * greatest]
    if len(upper) < 5 or any(200 * row[3] / row[1] > 0.1 for row in rising) or len({row[0] for row in rising}) < 2:
        return "none"
    whole = curve([(row[2], row[1]) for row in rising], made["degree"])
    range_ = sum(ranges) / len(ranges)
    resolution = range_ / 2 + step if range_ > step else step
    zero = max((abs(100 * whole(r) / greatest) for r in returns), default=None)
    figures = []
    for f in upper:
        own = [row for row in rising if row[1] == f]
        without = curve([(row[2], row[1]) for row in rising if row[1] != f], made["degree"])
        q = 100 * (sum(without(row[2]) for row in own) / len(own) - f) / f
        read = [whole(row[2]) for row in own]
        b = 100 * (max(read) - min(read)) / f
        v = max((abs(100 * (whole(d) - whole(next(r[2] for r in own if r[0] == s))) / f) for s, g, d in falling if g == f), default=None)
        d = sum(row[2] for row in own) / len(own)
        slope = (whole(d + 1) - whole(d - 1)) / 2
        figures.append((abs(q), b, v, 100 * resolution * slope / f))
    for name, lq, lb, lv, l0, la in LIMITS:
        if (zero is None or zero <= l0) and all(q <= lq and b <= lb and (v is None or v <= lv) and a <= la for q, b, v, a in figures):
            return str(name)
    return "none"


def main():
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["kind", "class_one_count", "class_true_step"])
    for line in sys.stdin:
        made = json.loads(line)
        out.writerow([made["kind"], decision(made, 1), decision(made, KINDS[made["kind"]]["step"])])


if __name__ == "__main__":
    main()
