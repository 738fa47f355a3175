#!/usr/bin/env python3
"""Makes metric_values.csv: expected values of metrics, computed apart from the Java code.

Run: /usr/bin/python3 make_metric_values.py > metric_values.csv
Needs NumPy and SciPy (made with NumPy 1.24.2, SciPy 1.10.1).
"""
import numpy as np
from scipy import integrate, stats

TAU = 0.1


def force(t):
    return 400 * (1 - np.exp(-t / TAU))


def largest_of(n):
    """Expected largest of n standard normal deviates."""
    return integrate.quad(lambda x: x * n * stats.norm.pdf(x) * stats.norm.cdf(x) ** (n - 1), -9, 9, limit=200)[0]


rows = []
for ms in (50, 100, 150, 200, 250):
    t = np.arange(0, ms + 1) * 1e-3
    rows.append((f"impulse.trapezoid.exp.{ms}ms", integrate.trapezoid(force(t), t)))
    rows.append((f"impulse.exact.exp.{ms}ms", integrate.quad(force, 0, ms * 1e-3)[0]))
# Highest 100-ms mean of the rise, seen from 0 to 1 s at 1 kHz (samples 0 ... 1000 ms): the last 100 samples.
t = np.arange(0, 1001) * 1e-3
f = force(t)
rows.append(("peak.exp.1s", f[901:1001].mean()))
rows.append(("peak.sample.exp.1s", f.max()))
rows.append(("best.1s.exp.2s", force(np.arange(1001, 2001) * 1e-3).mean()))
# The same at 80 Hz: 8 samples.
g = force(np.arange(0, 81) / 80)
rows.append(("peak.exp.1s.80Hz", g[73:81].mean()))
for left, right in ((412, 368), (368, 412), (25, 20), (300, 300)):
    rows.append((f"asymmetry.log.{left}.{right}", 100 * np.log(left / right)))
rows.append(("asymmetry.u.412.368.1pct", 100 * np.hypot(0.01, 0.01)))
for n in (1000, 80):
    rows.append((f"largest.normal.{n}", largest_of(n)))
print("name,value")
for name, value in rows:
    print(f"{name},{value:.12g}")
