"""Expected values of the spectrum: SciPy's signal.welch over a signal that the Java test makes again.

    python3 daemon/core/src/test/resources/cell/make_welch_values.py > daemon/core/src/test/resources/cell/welch_values.csv

SciPy is a general-purpose reference library; the version that made the values is in the first line.
"""

import numpy as np
import scipy
from scipy import signal

RATE_HZ = 1000.0


def samples(n):
    """A Lehmer generator's uniform noise, hum at 50 and 150 Hz, and a slope: the same in Java."""
    out = np.empty(n)
    state = 12345
    for i in range(n):
        state = state * 48271 % 2147483647
        t = i / RATE_HZ
        out[i] = (
            state / 2147483647.0
            + 0.5 * np.sin(2 * np.pi * 50 * t)
            + 0.1 * np.sin(2 * np.pi * 150 * t)
            + 0.01 * t
        )
    return out


print(f"# scipy {scipy.__version__} numpy {np.__version__}; segment,k,density")
for segment in (64, 1024):
    _, density = signal.welch(
        samples(5000), RATE_HZ, window="hann", nperseg=segment, noverlap=segment // 2, detrend="constant"
    )
    for k, value in enumerate(density):
        print(f"{segment},{k},{float(value)!r}")
