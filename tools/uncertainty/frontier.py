#!/usr/bin/env python3
"""How narrow could any interval about a straight line be, that also holds the truth of cells that are bent?

    python3 frontier.py

A rule looks at what the references show (the residuals of the line) and gives a half-width h. For cells whose S (or bow) has a depth uniform within +-B
it must hold the truth in 94 % of cases; the question is its mean half-width on cells that are straight, over the half-width that would have held 95 %
there. Among all rules the narrowest is found by Lagrange's multiplier: for each outcome z the h that maximises lambda*p(z, held) - p0(z)*h (as in the lemma
of Neyman and Pearson). What a rule must hold besides (other depths, other shapes, scatter that is not known but estimated) only makes it wider: the
figures are lower bounds. Everything is normal here; only Python's standard library is used.
"""
import math, random

STEPS = (0.2, 0.4, 0.6, 0.8, 1.0)
SHAPES = {"a bow": lambda x: 4 * x * (1 - x), "an S": lambda x: x * (1 - x) * (1 - 2 * x) / 0.09622504486493763}
MUST = 0.94
BS = 17          # depths of the uniform
HS = 160         # half-widths tried


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
    bend = [SHAPES[shape](x) for x in STEPS]
    nbend = [sum(b[j] * bend[j] for j in range(n)) for b in basis]
    solved = solve(v, [[c, s] for c, s in zip(cross, nbend)])
    w, u = [row[0] for row in solved], [row[1] for row in solved]
    var_e = sum(e * e for e in e_of)
    left = math.sqrt(max(1e-18, var_e - sum(a * b for a, b in zip(w, cross))))
    information = sum(a * b for a, b in zip(u, nbend))
    gain = sum(a * b for a, b in zip(line, bend)) + SHAPES[shape](share) - sum(a * b for a, b in zip(w, nbend))
    needed = 1.959964 * math.sqrt(var_e)
    unit_depth, depth = depth, depth / math.sqrt(information)   # given in units of what the references just show
    bs = [depth * (2 * (i + 0.5) / BS - 1) for i in range(BS)]
    widest = 3 * needed + 1.1 * depth * abs(gain)
    hs = [widest * (j + 1) / HS for j in range(HS)]

    def outcome(b):
        unit = [r.gauss(0, 1) for _ in root[0]]
        z = [sum(a * c for a, c in zip(row, unit)) + b * s for row, s in zip(z_of, nbend)]
        first, second = sum(a * c for a, c in zip(w, z)), sum(a * c for a, c in zip(u, z))
        ratios = [math.exp(b_ * second - b_ * b_ * information / 2) / BS for b_ in bs]
        held = []
        for h in hs:
            held.append(sum(q * (normal((h - first - b_ * gain) / left) - normal((-h - first - b_ * gain) / left)) for q, b_ in zip(ratios, bs)))
        return held, sum(ratios)

    straight = [outcome(0.0) for _ in range(draws)]
    bent = [outcome(r.uniform(-depth, depth)) for _ in range(draws)]

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
    return sum(hs[rule(held, high)] for held, _ in straight) / draws / needed, unit_depth


def main():
    r = random.Random(20270101)
    n = len(STEPS)
    sources = {
        # Weights hung one upon another, each with an error of its own; and hanging: each step by itself, in proportion to its force.
        "weights": [[0.2 if k <= i else 0.0 for k in range(n)] for i in range(n)],
        "hanging": [[STEPS[i] if k == i else 0.0 for k in range(n)] for i in range(n)],
        "noise": [[1.0 if k == i else 0.0 for k in range(n)] for i in range(n)],
    }
    for name, root in sources.items():
        for share in (0.25, 0.5):
            best = max((narrowest(root, share, shape, depth, r, 500) + (shape,) for shape in SHAPES for depth in (2.0, 4.0, 8.0)))
            print("%-8s at %.2f: at least %.2f (a cell with %s of up to %.1f times what the references show)" % (name, share, best[0], best[2], best[1]))


if __name__ == "__main__":
    main()
