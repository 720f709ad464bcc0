#!/usr/bin/env python3
"""How narrow could any interval about a straight line be, that also holds the truth of cells that are bent?

    python3 frontier.py

A rule looks at what the references show (the residuals of the line) and gives a half-width h. For cells whose S (or bow) has a depth uniform within +-B
it must hold the truth in 94 % of cases; the question is its mean half-width on cells that are straight, over the half-width that would have held 95 %
there. Among all rules the narrowest is found by Lagrange's multiplier: for each outcome z the h that maximises lambda*p(z, held) - p0(z)*h (as in the lemma
of Neyman and Pearson). What a rule must hold besides (other depths, other shapes, scatter that is not known but estimated) only makes it wider: the
figures are lower bounds. Everything is normal here; only Python's standard library is used.
"""
import itertools, math, random

STEPS = (0.2, 0.4, 0.6, 0.8, 1.0)
BOW = lambda x: 4 * x * (1 - x)
ESS = lambda x: x * (1 - x) * (1 - 2 * x) / 0.09622504486493763
SHAPES = {"a bow": (BOW,), "an S": (ESS,), "a bow and an S": (BOW, ESS)}
MUST = 0.94
BS = {1: 17, 2: 9}   # depths of the uniform, each way
HS = 90              # half-widths tried


def solve(matrix, right):
    n = len(matrix)
    a = [list(row) + list(r) for row, r in zip(matrix, right)]
    for i in range(n):
        p = max(range(i, n), key=lambda k: abs(a[k][i]))
        a[i], a[p] = a[p], a[i]
        a[i] = [v / a[i][i] for v in a[i]]
        for k in range(n):
            if k != i:
                a[k] = [v - a[k][i] * w for v, w in zip(a[k], a[i])]
    return [row[n:] for row in a]


def normal(z):
    return 0.5 * math.erfc(-z / math.sqrt(2))


def narrowest(root, share, shape, depth, r, draws):
    """root: the references' errors are root times independent unit normals. Returns mean half-width over needed."""
    n = len(STEPS)
    top = sum(x * x for x in STEPS)
    # Contrasts that a line through zero cannot take up.
    basis = [[STEPS[i + 1] if j == i else -STEPS[i] if j == i + 1 else 0.0 for j in range(n)] for i in range(n - 1)]
    line = [-share * x / top for x in STEPS]
    z_of = [[sum(b[j] * root[j][k] for j in range(n)) for k in range(len(root[0]))] for b in basis]
    e_of = [sum(line[j] * root[j][k] for j in range(n)) for k in range(len(root[0]))]
    v = [[sum(a * b for a, b in zip(p, q)) for q in z_of] for p in z_of]
    cross = [sum(a * b for a, b in zip(p, e_of)) for p in z_of]
    shapes = SHAPES[shape]
    many = len(shapes)
    bends = [[f(x) for x in STEPS] for f in shapes]
    nbends = [[sum(b[j] * bend[j] for j in range(n)) for b in basis] for bend in bends]
    solved = solve(v, [[c] + [nbend[i] for nbend in nbends] for i, c in enumerate(cross)])
    w, us = [row[0] for row in solved], [[row[1 + k] for row in solved] for k in range(many)]
    var_e = sum(e * e for e in e_of)
    left = math.sqrt(max(1e-18, var_e - sum(a * b for a, b in zip(w, cross))))
    information = [[sum(a * b for a, b in zip(u, nbend)) for nbend in nbends] for u in us]
    gains = [sum(a * b for a, b in zip(line, bend)) + f(share) - sum(a * b for a, b in zip(w, nbend)) for f, bend, nbend in zip(shapes, bends, nbends)]
    needed = 1.959964 * math.sqrt(var_e)
    # Depths are given in units of what the references just show of each shape.
    tops = [depth / math.sqrt(information[k][k]) for k in range(many)]
    count = BS[many]
    grid = [[top * (2 * (i + 0.5) / count - 1) for i in range(count)] for top in tops]
    depths = list(itertools.product(*grid))
    misses = [sum(g * b for g, b in zip(gains, bs)) for bs in depths]
    halves = [sum(p * information[i][j] * q for i, p in enumerate(bs) for j, q in enumerate(bs)) / 2 for bs in depths]
    widest = 3 * needed + 1.1 * sum(top * abs(gain) for top, gain in zip(tops, gains))
    hs = [widest * (j + 1) / HS for j in range(HS)]

    def outcome(bs):
        unit = [r.gauss(0, 1) for _ in root[0]]
        z = [sum(a * c for a, c in zip(row, unit)) + sum(b * nbend[i] for b, nbend in zip(bs, nbends)) for i, row in enumerate(z_of)]
        first, seconds = sum(a * c for a, c in zip(w, z)), [sum(a * c for a, c in zip(u, z)) for u in us]
        ratios = [math.exp(sum(b * second for b, second in zip(bs_, seconds)) - half) / len(depths) for bs_, half in zip(depths, halves)]
        total = sum(ratios)
        likely = [(q, first + miss) for q, miss in zip(ratios, misses) if q > 1e-6 * total]
        held = [sum(q * (normal((h - at) / left) - normal((-h - at) / left)) for q, at in likely) for h in hs]
        return held, total

    straight = [outcome([0.0] * many) for _ in range(draws)]
    bent = [outcome([r.uniform(-top, top) for top in tops]) for _ in range(draws)]

    def rule(held, multiplier):
        return max(range(HS), key=lambda j: multiplier * held[j] - hs[j])

    low, high = 1e-6 * needed, 1e6 * needed
    for _ in range(40):
        multiplier = math.sqrt(low * high)
        covered = sum(held[rule(held, multiplier)] / total for held, total in bent) / draws
        if covered < MUST:
            low = multiplier
        else:
            high = multiplier
    return sum(hs[rule(held, high)] for held, _ in straight) / draws / needed, depth


def steps(step, noise, r, draws=20000):
    """Who does not know where between two of the converter's steps a force falls must hold forces anywhere between them; some are then held always."""
    def error(between):
        zero = r.random() * step
        # The mean of a window's rounded samples, by the normal distribution; one sample under load.
        mean = sum(step * (1 - normal((edge * step - zero) / noise)) for edge in (-0.5, 0.5, 1.5)) - step
        return abs(round((zero + between * step + r.gauss(0, noise)) / step) * step - mean - between * step)

    def quantile(errors, part):
        return sorted(errors)[int(part * len(errors))]

    anywhere = quantile([error(r.random()) for _ in range(draws)], MUST)
    for share, counts in ((0.25, 49060), (0.5, 98120), (0.95, 186428)):
        errors = [error(counts / step % 1) for _ in range(draws)]
        needed = quantile(errors, 0.95)
        print("steps of %4d at %.2f: %.2f of what this force needs, and it is held %.1f %% then" % (
            step, share, anywhere / needed, 100.0 * sum(e <= anywhere for e in errors) / draws))


def main():
    r = random.Random(20270101)
    for step in (200, 1000):
        steps(step, 20.0, r)
    n = len(STEPS)
    sources = {
        # Weights hung one upon another, each with an error of its own; and hanging: each step by itself, in proportion to its force.
        "weights": [[0.2 if k <= i else 0.0 for k in range(n)] for i in range(n)],
        "hanging": [[STEPS[i] if k == i else 0.0 for k in range(n)] for i in range(n)],
        "noise": [[1.0 if k == i else 0.0 for k in range(n)] for i in range(n)],
    }
    for name, root in sources.items():
        for share in (0.25, 0.5):
            for shape in SHAPES:
                best = max(narrowest(root, share, shape, depth, r, 200) for depth in ((2.0, 4.0, 8.0) if len(SHAPES[shape]) == 1 else (4.0,)))
                print("%-8s at %.2f: at least %.2f (cells with %s of up to %.0f times what the references show)" % (name, share, best[0], shape, best[1]), flush=True)


if __name__ == "__main__":
    main()
