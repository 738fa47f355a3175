#!/usr/bin/env python3
"""Makes the filter vectors that the Java filters are checked against.

Run from the root of the repository with Debian's python3-scipy (made with SciPy 1.10.1, NumPy 1.24.2):

    /usr/bin/python3 daemon/core/src/test/scripts/make_filter_vectors.py

writes daemon/core/src/test/resources/filter/*.csv. One row is one case; numbers are printed so that they read back
to the same double.
"""
import csv
import math
import pathlib

import numpy as np
import scipy
from scipy import optimize, signal

OUT = pathlib.Path(__file__).resolve().parents[1] / "resources" / "filter"
ORDERS = (2, 4, 8)
CUTOFFS_AND_RATES = ((10, 80), (10, 100), (20, 100), (10, 1000), (20, 1000), (50, 1000), (150, 1000), (0.5, 2000), (50, 2000))
NOTCHES = ((50, 30, 1000), (60, 30, 1000), (50, 10, 500), (60, 5, 2000))
RESPONSE_SAMPLES = 64
SIGNAL_SAMPLES = 200
SIGNAL_SEED = 12345


def test_signal():
    """A pull on a resting level, with tremor, hum and noise, as if sampled at 200 Hz; the rate does not matter here."""
    state = SIGNAL_SEED
    x = []
    for n in range(SIGNAL_SAMPLES):
        t = n / 200.0
        pull = 300 * (1 - math.exp(-(t - 0.2) / 0.1)) if t >= 0.2 else 0.0
        if t >= 0.7:
            pull *= math.exp(-(t - 0.7) / 0.05)
        state = (1664525 * state + 1013904223) % 2**32
        noise = 4 * (state / 2**32 - 0.5)
        x.append(12 + pull + 3 * math.sin(2 * math.pi * 9 * t) + 2 * math.sin(2 * math.pi * 50 * t + 0.3) + noise)
    return np.array(x)


def group_delay_samples(sos, frequency_hz, rate_hz):
    """Sum over the sections, because the one polynomial of a high order is ill-conditioned.

    Numerators are scaled to begin with 1: the gain does not delay, and SciPy takes a tiny one for a singularity.
    """
    w = 2 * math.pi * frequency_hz / rate_hz
    return sum(float(signal.group_delay((s[:3] / s[0], s[3:]), w=[w])[1][0]) for s in sos)


def responses(sos, x):
    impulse = np.zeros(RESPONSE_SAMPLES)
    impulse[0] = 1
    zi = signal.sosfilt_zi(sos)
    return {
        "impulse": signal.sosfilt(sos, impulse),
        "step": signal.sosfilt(sos, np.ones(RESPONSE_SAMPLES)),
        "signal": signal.sosfilt(sos, x),
        "signalPrimed": signal.sosfilt(sos, x, zi=zi * x[0])[0],
    }


def zero_phase(sos, x):
    """Forward and backward with odd continuation: SciPy's own padding, none, and a long one."""
    return {
        "default": signal.sosfiltfilt(sos, x),
        "0": signal.sosfiltfilt(sos, x, padlen=0),
        "120": signal.sosfiltfilt(sos, x, padlen=120),
        "default40": signal.sosfiltfilt(sos, x[40:80]),
    }


def double_pass(order, frequency_hz, rate_hz):
    """Where two passes of a Butterworth filter are 3 dB down, found on the response itself."""
    sos = signal.butter(order, frequency_hz, fs=rate_hz, output="sos")

    def excess(at_hz):
        return abs(signal.sosfreqz(sos, worN=[at_hz], fs=rate_hz)[1][0]) ** 2 - math.sqrt(0.5)

    return optimize.brentq(excess, frequency_hz * 0.5, frequency_hz, xtol=1e-12)


def write(name, header, rows):
    with open(OUT / name, "w", newline="") as file:
        file.write(f"# SciPy {scipy.__version__}, daemon/core/src/test/scripts/make_filter_vectors.py\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        for row in rows:
            writer.writerow([repr(float(v)) if isinstance(v, (float, np.floating)) else v for v in row])


def main():
    OUT.mkdir(parents=True, exist_ok=True)
    x = test_signal()
    cases = [("butterworth", order, cutoff, rate, signal.butter(order, cutoff, fs=rate, output="sos"))
             for order in ORDERS for cutoff, rate in CUTOFFS_AND_RATES]
    for frequency, q, rate in NOTCHES:
        b, a = signal.iirnotch(frequency, q, fs=rate)
        cases.append(("notch", q, frequency, rate, np.array([np.concatenate([b, a])])))
    key = ["design", "orderOrQ", "frequencyHz", "sampleRateHz"]
    write("sections.csv", key + ["section", "b0", "b1", "b2", "a0", "a1", "a2"],
          [(*c[:4], i, *s) for c in cases for i, s in enumerate(c[4])])
    write("group-delay.csv", key + ["atHz", "samples"],
          [(*c[:4], at, group_delay_samples(c[4], at, c[3]))
           for c in cases for at in (0.0, c[2] * 0.5, c[2] * 0.9)])
    write("responses.csv", key + ["kind", "y..."],
          [(*c[:4], kind, *y) for c in cases for kind, y in responses(c[4], x).items()])
    write("zero-phase.csv", key + ["padding", "y..."],
          [(*c[:4], kind, *y) for c in cases for kind, y in zero_phase(c[4], x).items()])
    write("double-pass.csv", key + ["what", "hz"],
          [(*c[:4], "half power of two passes", double_pass(*c[1:4])) for c in cases if c[0] == "butterworth"])
    write("signal.csv", ["x"], [(v,) for v in x])


if __name__ == "__main__":
    main()
