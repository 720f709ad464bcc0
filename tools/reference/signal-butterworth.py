"""Prints Butterworth coefficients and magnitudes for tests/RigDaq.Core.Tests/Signal/LowPassTest.cs.

Debian: python3-scipy, python3-numpy. Run: python3 tools/reference/signal-butterworth.py
"""

import numpy
import scipy
from scipy import signal

print("SciPy", scipy.__version__, "NumPy", numpy.__version__)
for cutoff, rate in ((5, 80), (10, 320), (20, 1000), (50, 4000), (100, 1000), (400, 1000)):
    b, a = signal.butter(2, cutoff, fs=rate)
    frequencies = [cutoff / 10, cutoff, min(2 * cutoff, 0.45 * rate)]
    _, response = signal.freqz(b, a, worN=frequencies, fs=rate)
    numbers = [*b, *a[1:], *numpy.abs(response)]
    print(f"[InlineData({cutoff}, {rate}, " + ", ".join(repr(float(x)) for x in numbers) + ")]")

b, a = signal.butter(2, 20, fs=1000)
step = signal.lfilter(b, a, numpy.ones(20))
print("step", [float(x) for x in step[[0, 4, 9, 19]]])
