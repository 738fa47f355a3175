#!/usr/bin/env python3
"""Makes two-limbs-invented.csv: two invented efforts of both limbs of an invented person, 1 kHz, newtons.

    docs/examples/make_example.py > docs/examples/two-limbs-invented.csv

Nothing in it was measured. A sensor that was never zeroed (14 and 9 N at rest), noise of 0.4 N, values to 0.1 N, and
30 rows left out near 4.2 s.
"""
import math
import random

random.seed(20260101)
EFFORTS = [(1.2, 2.6, 402.0, 371.0), (5.0, 6.5, 389.0, 366.0)]  # onset s, release s, left N, right N


def effort(t, onset, release, peak):
    """A rise that begins as a power of time and flattens, and a release of about 0.15 s."""
    if t <= onset:
        return 0.0
    rise = (1.0 - math.exp(-((t - onset) / 0.14) ** 1.4)) * peak
    return rise if t <= release else rise * math.exp(-(((t - release) / 0.12) ** 2))


print("time_s,left heel,right heel")
for k in range(8500):
    t = k / 1000.0
    if 4.2 <= t < 4.23:
        continue
    left = 14.0 + sum(effort(t, a, b, l) for a, b, l, _ in EFFORTS) + random.gauss(0, 0.4)
    right = 9.0 + sum(effort(t, a + 0.012, b + 0.03, r) for a, b, _, r in EFFORTS) + random.gauss(0, 0.4)
    print(f"{t:.3f},{left:.1f},{right:.1f}")
