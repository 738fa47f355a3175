#!/usr/bin/env python3
"""Makes knee-tests-invented.csv: three invented tests of an invented person's knees, 100 Hz, newtons.

    docs/examples/make_tests_example.py > docs/examples/knee-tests-invented.csv

Nothing in it was measured. Both limbs at once, three holds of each test, 3.5 s apart; knee-tests.csv says which test was
when. Noise of 0.4 N, values to 0.1 N.
"""
import math
import random

random.seed(20260202)
# Begin of a test s, peak forces N of left and right in its three holds.
TESTS = [
    (0.0, [(262.0, 240.0), (268.0, 247.0), (259.0, 241.0)]),  # flexor at 30 degrees
    (12.0, [(231.0, 214.0), (228.0, 210.0), (235.0, 213.0)]),  # flexor at 60 degrees
    (24.0, [(421.0, 408.0), (430.0, 411.0), (418.0, 399.0)]),  # extensor at 60 degrees
]
HOLDS = [(begin + 1.2 + 3.5 * k, peaks) for begin, holds in TESTS for k, peaks in enumerate(holds)]


def hold(t, onset, peak):
    """A rise that flattens, held for 1.3 s, and a release of about 0.15 s."""
    if t <= onset:
        return 0.0
    rise = (1.0 - math.exp(-((t - onset) / 0.2) ** 1.4)) * peak
    return rise if t <= onset + 1.3 else rise * math.exp(-(((t - onset - 1.3) / 0.12) ** 2))


print("time_s,left ankle,right ankle")
for k in range(3600):
    t = k / 100.0
    left = 3.0 + sum(hold(t, onset, peaks[0]) for onset, peaks in HOLDS) + random.gauss(0, 0.4)
    right = 2.0 + sum(hold(t, onset + 0.02, peaks[1]) for onset, peaks in HOLDS) + random.gauss(0, 0.4)
    print(f"{t:.2f},{left:.1f},{right:.1f}")
