"""Makes cell-calibration-invented.csv: readings of an invented 1 kN cell under weighed plates, three mountings.

The cell is invented: 4127 counts unloaded, 1015.3 counts per newton, nonlinearity 0.03 % of full scale, hysteresis 0.04 %,
sensitivity different by 0.02 % (SD) from mounting to mounting, noise of 30 counts (SD) of a steady reading.
"""

import random
from pathlib import Path

GRAVITY = 9.8127  # near 52 degrees north
LOADS_KG = [0, 10.04, 20.07, 40.11, 60.18, 80.2]
FULL_N = LOADS_KG[-1] * GRAVITY


def counts(force_n, down, sensitivity, rng):
    part = force_n / FULL_N
    bend = 0.0003 * 4 * part * (1 - part) * FULL_N
    lag = 0.0004 * 4 * part * (1 - part) * FULL_N if down else 0
    return round(4127 + 1015.3 * sensitivity * (force_n + bend + lag) + rng.gauss(0, 30))


def main():
    rng = random.Random(5)
    lines = ["# invented readings of an invented cell; see make_calibration_example.py", "run,mounting,direction,applied,counts"]
    run = 0
    for mounting in "abc":
        sensitivity = 1 + rng.gauss(0, 0.0002)
        for _ in range(2 if mounting == "a" else 1):
            run += 1
            for kg in LOADS_KG:
                lines.append(f"{run},{mounting},up,{kg},{counts(kg * GRAVITY, False, sensitivity, rng)}")
            for kg in reversed(LOADS_KG[:-1]):
                lines.append(f"{run},{mounting},down,{kg},{counts(kg * GRAVITY, True, sensitivity, rng)}")
    Path(__file__).with_name("cell-calibration-invented.csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
