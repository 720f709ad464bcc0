#!/usr/bin/env python3
"""Makes force curves of the kinds that recordings of others have (issue: stops at the break, sudden partial drops, no zero, drawn polymers,
steps and climbing remnants, rounded and slow files), apart from the program and from tools/corpus: another language, other equations.

    python3 tools/curves/make.py KIND COUNT [FIRST_SEED] > traces.jsonl

KIND is one of 1 to 6; bundle (a second maker: strands that bear load side by side and break one by one); drift, step, average (plain pulls
whose zero drifts, whose converter is coarse, whose converter averages);
unseen (a zero that drifts before a partial break, so that nothing shows it after). One JSON object a line:
kind, seed, endings (those that are right), peak (of the true force as recorded, zero in it; null where there is none), first (the first
maximum, or null), zero (whether there is one to take off), t, f, x (position, or null), offset (what the true
zero is), delay (of the converter, in seconds). Same seed, same curve.
"""
import json
import math
import random
import sys

BROKEN = ["broken", "partly broken"]


class Curve:
    """A true force over time, put together from pieces; then sampled, made noisy, rounded, cut."""

    def __init__(self, rng, rate, noise, offset=0.0):
        self.rng, self.rate, self.noise, self.offset = rng, rate, noise, offset
        self.pieces = []          # (start, end, function of seconds since start)
        self.now = 0.0
        self.level = 0.0
        self.greatest = 0.0

    def hold(self, seconds):
        level = self.level
        self._add(seconds, lambda s: level)

    def rise(self, to, seconds, bend=1.0):
        """Power law from here to a force: bend below 1 flattens, above 1 is a toe."""
        level, gain = self.level, to - self.level
        self._add(seconds, lambda s: level + gain * (s / seconds) ** bend)

    def yielding(self, to, seconds):
        """A quarter of a sine: level at the end."""
        level, gain = self.level, to - self.level
        self._add(seconds, lambda s: level + gain * math.sin(math.pi / 2 * s / seconds))

    def soften(self, to, seconds):
        """Half a cosine down: level at both ends."""
        level, loss = self.level, self.level - to
        self._add(seconds, lambda s: level - loss * (1 - math.cos(math.pi * s / seconds)) / 2)

    def drop(self, to, seconds=0.0):
        """Sudden: an exponential whose time is a small part of what is called sudden."""
        level, loss = self.level, self.level - to
        if seconds > 0:
            self._add(5 * seconds, lambda s: level - loss * (1 - math.exp(-s / seconds)))
        self.level = to

    def decay(self, to, seconds):
        """Relaxation: fast at first, then slower and slower."""
        level, loss = self.level, self.level - to
        scale = math.log1p(seconds / 2)
        self._add(seconds, lambda s: level - loss * math.log1p(s / 2) / scale)

    def _add(self, seconds, function):
        self.pieces.append((self.now, self.now + seconds, function))
        self.now += seconds
        self.level = function(seconds)
        self.greatest = max(self.greatest, function(0.0), self.level, *(function(seconds * k / 50) for k in range(51)))

    def at(self, time):
        for start, end, function in self.pieces:
            if time < end:
                return function(max(0.0, time - start))
        return self.level

    def sample(self, until=None, uneven=0.0, digits=None, start=0.0):
        """times, forces: to the end, or to a time; uneven as a share of the interval; digits rounds to so many significant ones."""
        until = self.now if until is None else until
        times, forces = [], []
        k = 0
        phase = self.phase = self.rng.random() / self.rate
        while True:
            time = start + phase + k / self.rate + (self.rng.uniform(-uneven, uneven) / self.rate if k else 0)
            k += 1
            if time > until:
                break
            force = self.at(time) + self.offset + self.rng.gauss(0, self.noise)
            if digits is not None and force != 0:
                force = float(f"%.{digits}g" % force)
            times.append(round(time - start - phase, 6) if not times else round(max(time - start - phase, times[-1]), 6))
            forces.append(round(force, 7) if digits is None else force)
        return times, forces


def kind1(rng):
    """The recording stops at the break: in the fall, or one to eight samples after it."""
    rate = rng.choice([2, 5, 10, 20, 50, 128, 300])
    peak = 10 ** rng.uniform(0.5, 4)
    seconds = max(rng.uniform(4, 30), 25 / rate) if rate < 50 else rng.uniform(2, 8)
    c = Curve(rng, rate, peak * 10 ** rng.uniform(-4, -2.3))
    c.hold(max(1.2, 7 / rate))
    if rng.random() < 0.5:
        c.rise(peak, seconds, rng.uniform(0.7, 1.5))
    else:
        c.yielding(peak, seconds * 0.6)
        c.soften(peak * rng.uniform(0.75, 0.95), seconds * 0.4)
    left = min(rng.choice([0.0, 0.02, 0.1, 0.3, 0.5, 0.6]) * peak, c.level - 0.36 * peak)
    tau = rng.choice([0.0, 0.002, 0.3 / rate if rate >= 20 else 0.0])
    begin = c.now
    c.drop(left, tau)
    c.hold(40 / rate + 1)
    # At least one sample lies clearly in what is left.
    times, forces = c.sample(until=begin + 5 * tau + (rng.randint(1, 8) + 0.01) / rate)
    return times, forces, None, BROKEN, c.greatest, None, True


def kind2(rng):
    """Sudden partial drops and then more load; uneven steps; down to one sample a second."""
    rate = rng.choice([1, 2, 4, 10, 20, 50, 100])
    peak = 10 ** rng.uniform(1, 4)
    c = Curve(rng, rate, peak * 10 ** rng.uniform(-4.5, -2.5))
    c.hold(max(1.2, 7 / rate))
    seconds = max(30 / rate, rng.uniform(5, 20))
    first = rng.random() < 0.5
    c.rise(peak if first else peak * rng.uniform(0.5, 0.9), seconds, rng.uniform(0.8, 1.6))
    bottom = c.level * rng.uniform(0.5, 0.92)
    c.drop(bottom, 0.0)
    top = c.greatest * rng.uniform(0.8, 0.97) if first else peak
    if top > bottom:
        c.rise(top, max(10 / rate, seconds * rng.uniform(0.2, 0.6)))
    c.drop(0.0, 0.0)
    c.hold(max(2, 8 / rate))
    uneven = 0.0 if rng.random() < 0.6 else rng.uniform(0.1, 0.45)
    times, forces = c.sample(uneven=uneven)
    return times, forces, None, BROKEN, c.greatest, None, True


def kind3(rng):
    """No zero to be had: it begins on the ramp, or under load; forces are as given."""
    rate = rng.choice([2, 10, 20, 50, 128])
    peak = 10 ** rng.uniform(0, 4)
    c = Curve(rng, rate, peak * 10 ** rng.uniform(-4.5, -2.7))
    seconds = max(30 / rate, rng.uniform(4, 25))
    if rng.random() < 0.6:
        c.rise(peak, seconds, rng.uniform(0.6, 1.3))
    else:
        c.level = peak * rng.uniform(0.1, 0.35)
        c.rise(peak, seconds, rng.uniform(0.8, 1.2))
    if rng.random() < 0.7:
        c.drop(0.0, 0.0)
        c.hold(max(2, 8 / rate))
        times, forces = c.sample()
        return times, forces, None, BROKEN, c.greatest, None, False

    # A recording that stops on its rise holds no more than its last sample does.
    times, forces = c.sample()
    return times, forces, None, ["unbroken"], c.at(c.phase + times[-1]), None, False


def kind4(rng):
    """Drawn polymers: a toe that wiggles, a yield, a draw, at times hardening beyond it, then the break."""
    rate = rng.choice([10, 20, 50, 128, 250])
    peak = 10 ** rng.uniform(1, 3.5)
    c = Curve(rng, rate, peak * 10 ** rng.uniform(-4.5, -3))
    c.hold(1.3)
    wiggle = peak * rng.uniform(0.02, 0.06)
    c.rise(wiggle, 0.5)
    c.drop(wiggle * rng.uniform(0.4, 0.8), 0.01)
    c.rise(wiggle * 1.2, 0.4)
    hardens = rng.random() < 0.6
    top = peak * (rng.uniform(0.75, 0.97) if hardens else 1.0)
    c.yielding(top, rng.uniform(2, 6))
    plateau = top * rng.uniform(0.7, 0.9)
    c.soften(plateau, rng.uniform(1, 4))
    c.hold(rng.uniform(0.5, 3))
    if hardens:
        c.rise(peak, rng.uniform(3, 8), rng.uniform(1, 1.6))
    c.drop(0.0, 0.0)
    c.hold(1.5)
    times, forces = c.sample()
    return times, forces, None, BROKEN, c.greatest, top if hardens else None, True


def kind5(rng):
    """A sudden main break whose remnant climbs again, and breaks in several sudden steps."""
    rate = rng.choice([5, 10, 20, 50, 128])
    peak = 10 ** rng.uniform(1, 4)
    c = Curve(rng, rate, peak * 10 ** rng.uniform(-4, -2.2))
    c.hold(max(1.2, 7 / rate))
    c.rise(peak, rng.uniform(5, 15), rng.uniform(0.7, 1.8))
    if rng.random() < 0.5:
        c.drop(peak * rng.uniform(0.03, 0.33), 0.0)
        c.hold(max(0.5, 4 / rate))
        c.rise(peak * rng.uniform(0.45, 0.8), rng.uniform(5, 15), rng.uniform(0.8, 1.2))
        way = rng.random()
        if way < 0.4:
            c.drop(0.0, 0.0)
            c.hold(2)
        elif way < 0.7:
            c.soften(peak * rng.uniform(0.1, 0.3), rng.uniform(4, 10))
            c.hold(3)
    else:
        level = peak
        for _ in range(rng.randint(2, 4)):
            level *= rng.uniform(0.35, 0.62)
            c.drop(level, 0.0)
            c.hold(rng.uniform(0.8, 4) + 8 / rate)
        if level > 0.36 * peak or rng.random() < 0.5:
            c.drop(0.0, 0.0)
            c.hold(2)
    times, forces = c.sample()
    return times, forces, None, BROKEN, c.greatest, None, True


def kind6(rng):
    """Rounded files, slow rates, relaxation at a held position."""
    way = rng.random()
    peak = 10 ** rng.uniform(0.5, 4)
    if way < 0.35:
        rate = rng.choice([20, 50, 128])
        c = Curve(rng, rate, peak * 10 ** rng.uniform(-6, -4.5))
        c.hold(1.3)
        c.yielding(peak, rng.uniform(8, 20))
        c.soften(peak * rng.uniform(0.85, 0.95), rng.uniform(3, 8))
        c.drop(0.0, 0.0)
        c.hold(1.5)
        times, forces = c.sample(digits=3)
        return times, forces, None, BROKEN, c.greatest, None, True
    if way < 0.7:
        rate = rng.uniform(0.5, 3)
        c = Curve(rng, rate, peak * 10 ** rng.uniform(-4.5, -3))
        c.hold(9 / rate)
        c.rise(peak, rng.uniform(25, 60) / rate, rng.uniform(0.7, 1.4))
        if rng.random() < 0.5:
            c.drop(peak * rng.uniform(0.85, 0.95), 0.0)
        c.drop(0.0, rng.choice([0.0, 0.15 / rate]))
        c.hold(6 / rate)
        times, forces = c.sample()
        return times, forces, None, BROKEN, c.greatest, None, True
    rate = rng.choice([1, 5, 20])
    c = Curve(rng, rate, peak * 10 ** rng.uniform(-4, -2.7))
    c.hold(max(1.3, 7 / rate))
    begin = c.now
    ramp = rng.uniform(4, 10) + 10 / rate
    c.rise(peak, ramp, rng.uniform(0.9, 1.2))
    c.decay(peak * rng.uniform(0.2, 0.6), rng.uniform(60, 200))
    times, forces = c.sample()
    places = [round(5 * min(1.0, max(0.0, (t - begin) / ramp)) + rng.gauss(0, 0.0005), 4) for t in times]
    return times, forces, places, ["unbroken"], c.greatest, None, True


def bundle(rng):
    """
    The second maker: strands of random slack, stiffness and strength that bear load side by side while the far end moves evenly. Each breaks
    at once and for good. The recording goes on after the last one, or stops at it, or stops while some still bear.
    """
    rate = rng.choice([3, 10, 20, 60, 150])
    speed = 1.0
    strands = []
    for _ in range(rng.choice([1, 1, 2, 3, 4])):
        slack = rng.uniform(0, 3)
        stiffness = 10 ** rng.uniform(-0.3, 0.3)
        strands.append((slack, stiffness, slack + rng.uniform(4, 12)))
    scale = 10 ** rng.uniform(0, 3)
    last = max(s[2] for s in strands)
    hold = max(1.2, 7 / rate)

    def force(time, way=None):
        place = (time - hold) * speed if way is None else way
        return scale * sum(k * (place - s) for s, k, end in strands if s < place < end)

    peak = max(force(0, end - 1e-9) for _, _, end in strands)
    noise = peak * 10 ** rng.uniform(-4, -2.4)
    stop = rng.choice(["after", "at"])
    until = hold + last / speed + (max(2.0, 8 / rate) if stop == "after" else (rng.randint(1, 4) + 0.01) / rate)
    offset = rng.uniform(-0.5, 0.5) * peak
    phase = rng.random() / rate
    times, forces = [], []
    k = 0
    while phase + k / rate <= until:
        time = phase + k / rate
        times.append(round(k / rate, 6))
        forces.append(round(force(time) + offset + rng.gauss(0, noise), 7))
        k += 1
    return times, forces, None, BROKEN, peak + offset, None, True, offset


def pull(rng, rate, sigma, drift=0.0, step=0.0, averages=False):
    """A plain pull to a whole break, 100 to 3,000 noises high, for the uncertainty of its peak: brittle, or after a yield."""
    peak = sigma * 10 ** rng.uniform(2, 3.5)
    c = Curve(rng, rate, sigma)
    c.hold(1.3)
    if rng.random() < 0.5:
        c.rise(peak, rng.uniform(3, 12), rng.uniform(0.7, 1.4))
    else:
        c.yielding(peak, rng.uniform(3, 8))
        c.soften(peak * rng.uniform(0.8, 0.95), rng.uniform(1, 3))
    c.drop(0.0, 0.0)
    c.hold(3.0)
    times, forces = [], []
    offset = rng.uniform(-0.3, 0.3) * peak
    phase, k, parts = rng.random() / rate, 1, 16
    while phase + k / rate <= c.now:
        time = phase + k / rate
        force = sum(c.at(time - (j + 0.5) / parts / rate) for j in range(parts)) / parts if averages else c.at(time)
        force += offset + drift * (time - 0.5) + rng.gauss(0, sigma)
        if step > 0:
            force = step * round(force / step)
        times.append(round(time, 6))
        forces.append(round(force, 9))
        k += 1
    return times, forces, None, BROKEN, c.greatest + offset, None, True, offset, 0.5 / rate if averages else 0.0


def drifting(rng):
    """The zero drifts evenly, up to a noise a second either way."""
    sigma = 10 ** rng.uniform(-2, 0)
    return pull(rng, rng.choice([10.2, 80.4, 320]), sigma, drift=rng.uniform(-1, 1) * sigma)


def unseen(rng):
    """The same, but what is left bears load to the end, so that nothing shows the zero after."""
    sigma = 10 ** rng.uniform(-2, 0)
    drift = rng.choice([-1, 1]) * rng.uniform(0.1, 1) * sigma
    rate = rng.choice([10.2, 80.4, 320])
    peak = sigma * 10 ** rng.uniform(2.5, 3.5)
    c = Curve(rng, rate, sigma)
    c.hold(1.05)
    c.rise(peak, rng.uniform(3, 12), rng.uniform(0.7, 1.4))
    c.drop(peak * rng.uniform(0.15, 0.3), 0.0)
    c.hold(3.0)
    times, forces = c.sample()
    offset = rng.uniform(-0.3, 0.3) * peak
    forces = [round(force + offset + drift * (time - 0.5), 9) for time, force in zip(times, forces)]
    return times, forces, None, ["partly broken"], c.greatest + offset, None, True, offset


def stepped(rng):
    """The converter's step is half to six times the noise."""
    sigma = 10 ** rng.uniform(-2, 0)
    return pull(rng, rng.choice([10.2, 80.4, 320]), sigma, step=sigma * rng.uniform(0.5, 6))


def averaging(rng):
    """Each conversion is the mean of the force since the one before."""
    return pull(rng, rng.choice([10.2, 80.4, 320]), 10 ** rng.uniform(-2, 0), averages=True)


MAKERS = {"drift": drifting, "unseen": unseen, "step": stepped, "average": averaging, "1": kind1, "2": kind2, "3": kind3, "4": kind4, "5": kind5, "6": kind6, "bundle": bundle}


def main():
    if len(sys.argv) < 3 or sys.argv[1] not in MAKERS:
        sys.exit(__doc__)
    kind, count = sys.argv[1], int(sys.argv[2])
    first = int(sys.argv[3]) if len(sys.argv) > 3 else 0
    for seed in range(first, first + count):
        times, forces, places, endings, peak, maximum, zero, *more = MAKERS[kind](random.Random(f"{kind}/{seed}"))
        print(json.dumps({"kind": kind, "seed": seed, "endings": endings, "peak": peak, "first": maximum, "zero": zero,
                          "t": times, "f": forces, "x": places,
                          "offset": more[0] if more else 0.0, "delay": more[1] if len(more) > 1 else 0.0}, separators=(",", ":")))


if __name__ == "__main__":
    main()
