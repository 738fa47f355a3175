#!/usr/bin/env python3
"""Makes metric_values.csv: expected values of metrics, computed apart from the Java code.

Run: /usr/bin/python3 make_metric_values.py > metric_values.csv
Needs NumPy and SciPy (made with NumPy 1.24.2, SciPy 1.10.1).
"""
import numpy as np
from scipy import integrate, signal, stats

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
# Rates, times and impulses of the rise of 1 s: samples 0 ... 1000 ms, drawn straight between.
grid = np.arange(0, 1001) * 1e-3
for ms in (50, 100, 150, 200, 250):
    rows.append((f"rfd.exp.{ms}ms", (force(ms * 1e-3) - force(0)) / (ms * 1e-3)))
    rows.append((f"rfd.per-peak.exp.{ms}ms", force(ms * 1e-3) / (ms * 1e-3) / f[901:1001].mean()))
rows.append(("rfd.peak.20ms.exp", max((f[20:] - f[:-20]) / 0.02)))
for percent in (50, 90):
    level = percent / 100 * f[901:1001].mean()
    rows.append((f"time.exp.{percent}", np.interp(level, f, grid)))


def zero_phase_20_hz(x, rate):
    """Order 2 each pass, 3 dB down at 20 Hz after both, on the pre-warped axis; SciPy's own padding."""
    c = (np.sqrt(2) - 1) ** 0.25
    single = rate / np.pi * np.arctan(np.tan(np.pi * 20 / rate) / c)
    return signal.sosfiltfilt(signal.butter(2, single, fs=rate, output="sos"), x)


def variation(x, rate, skipped):
    """100 SD about the line / mean of the held part, which begins and ends `skipped` samples inside x."""
    held = zero_phase_20_hz(x, rate)[skipped:-skipped]
    return 100 * np.std(signal.detrend(held), ddof=1) / held.mean()


# A hold with hum: 4 s at 1 kHz, of which 0.25 s at both ends only pass through the filter.
t = np.arange(0, 4001) * 1e-3
hold = (200 - 0.8 * t + 3 * np.sin(2 * np.pi * 1.3 * t) + 2 * np.sin(2 * np.pi * 9 * t)
        + 1.5 * np.sin(2 * np.pi * 50 * t + 0.4))
rows.append(("variation.hold", variation(hold, 1000, 250)))
# Steady drift and a sine, as in a worked example without noise: 5 s at 100 Hz.
t = np.arange(0, 550) / 100 - 0.25
rows.append(("variation.example", variation(100 + 2 * t + 1.5 * np.sin(2 * np.pi * t), 100, 25)))
plain = (100 + 2 * t + 1.5 * np.sin(2 * np.pi * t))[25:-25]
rows.append(("variation.example.unfiltered", 100 * np.std(signal.detrend(plain), ddof=1) / plain.mean()))
rows.append(("variation.example.raw", 100 * np.std(plain, ddof=1) / plain.mean()))
# Fatigue: 400 N falling to 312 N over 60 s at 100 Hz; P over samples 0 ... 9, whose middle is 0.045 s.
fall = 400 - 88 * np.arange(0, 6001) / 6000
top = fall[:10].mean()
rows.append(("fatigue.end", 100 * (1 - integrate.trapezoid(fall[5990:], dx=0.01) / 0.1 / top)))
late = np.interp(np.concatenate([[0.045], np.arange(5, 6001) / 100]), np.arange(0, 6001) / 100, fall)
times = np.concatenate([[0.045], np.arange(5, 6001) / 100])
rows.append(("fatigue.area", 100 * (1 - integrate.trapezoid(late, times) / (60 - 0.045) / top)))
set_of = np.array([380.0, 400, 371, 355, 340])
rows.append(("fatigue.set.last", 100 * (1 - set_of[-1] / set_of.max())))
rows.append(("fatigue.set.mean", 100 * (1 - set_of.mean() / set_of.max())))
# A lowering of 3 s whose force climbs and drops: 100 + 60 t^2 N up to 2 s, then falling; thirds by the trapezoidal rule.
t = np.arange(0, 3001) * 1e-3
lower = np.where(t <= 2, 100 + 60 * t**2, 340 - 250 * (t - 2))
rows.append(("lowering.whole", integrate.trapezoid(lower, t) / 3))
for k, name in enumerate(("first", "middle", "last")):
    part = slice(1000 * k, 1000 * k + 1001)
    rows.append((f"lowering.{name}", integrate.trapezoid(lower[part], t[part])))
print("name,value")
for name, value in rows:
    print(f"{name},{value:.12g}")
