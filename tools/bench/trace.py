#!/usr/bin/env python3
"""The steps of reading a trace with numpy and SciPy: zero, noise, spikes, contact, peak, fall, load drops, slope, work.

    python3 tools/bench/trace.py FILE

FILE holds times, forces and positions, a third of it each, as doubles. Prints the processor seconds of one reading, the median of seven.
"""
import sys
import time

import numpy as np
from scipy.signal import savgol_filter


def read(times, forces, positions):
    still = times - times[0] < 1
    zero, noise = np.median(forces[still]), np.std(forces[still])
    force = forces - zero
    step = np.diff(force)
    limit = 8 * noise
    spike = np.zeros(len(force), bool)
    spike[1:-1] = (np.abs(step[:-1]) > limit) & (np.abs(step[1:]) > limit) & (step[:-1] * step[1:] < 0)
    t, f, x = times[~spike], force[~spike], positions[~spike]
    above = f > 10 * noise
    contact = int(np.argmax(above[:-2] & above[1:-1] & above[2:]))
    greatest = np.maximum.accumulate(f)
    fallen = np.flatnonzero((greatest > 10 * noise) & (f < 0.4 * greatest) & (np.arange(len(f)) > contact))
    fall = int(fallen[0]) if len(fallen) else len(f) - 1
    smooth = savgol_filter(f[contact:fall + 1], 21, 2)
    top = contact + int(np.argmax(smooth))
    near = slice(max(contact, top - 50), min(fall, top + 50))
    peak = np.polyval(np.polyfit(t[near] - t[top], f[near], 2), 0)
    down = np.maximum.accumulate(smooth) - smooth > max(0.02 * peak, limit)
    drops = np.flatnonzero(down[1:] & ~down[:-1])
    rise = (f[contact:top] > 0.1 * peak) & (f[contact:top] < 0.4 * peak)
    slope = np.polyfit(x[contact:top][rise], f[contact:top][rise], 1)[0] if rise.sum() > 2 else np.nan
    work = np.trapz(f[contact:fall], x[contact:fall])
    end = np.median(f[t > t[fall] + 0.25]) if np.any(t > t[fall] + 0.25) else np.nan
    return zero, noise, peak, len(drops), slope, work, end


def main():
    times, forces, positions = np.fromfile(sys.argv[1]).reshape(3, -1)
    took = []
    for _ in range(8):
        began = time.process_time()
        read(times, forces, positions)
        took.append(time.process_time() - began)
    print("seconds", np.median(took[1:]))


if __name__ == "__main__":
    main()
