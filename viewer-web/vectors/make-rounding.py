#!/usr/bin/env python3
"""Makes rounding.json: how a value and its standard uncertainty are written.

Rule: the uncertainty is rounded to two significant digits and the value to the same decimal place (JCGM 100:2008,
7.2.6: "it usually suffices to quote u_c(y) ... to at most two significant digits"); the form with the uncertainty in
parentheses, in the unit of the value, is that of JCGM 100:2008, 7.2.2, example 3. Both are rounded from their exact
binary value, ties away from zero. At most nine decimals are written; an uncertainty below that is written as one unit
of the ninth decimal (our own rule). A value that rounds to zero has no sign. Python's decimal module computes the
expected texts.

Run: python3 make-rounding.py > rounding.json
"""

import json
from decimal import ROUND_HALF_UP, Decimal

NBSP = "\u00a0"
MINUS = "\u2212"
MAX_DECIMALS = 9


def write(value, u, unit):
    exact_u = Decimal(u)
    place = exact_u.adjusted() - 1
    rounded_u = exact_u.quantize(Decimal(1).scaleb(place), ROUND_HALF_UP)
    if rounded_u.adjusted() > exact_u.adjusted():  # 0.0996 becomes 0.10, not 0.100
        place += 1
        rounded_u = exact_u.quantize(Decimal(1).scaleb(place), ROUND_HALF_UP)
    if place < -MAX_DECIMALS:
        place = -MAX_DECIMALS
        rounded_u = max(exact_u.quantize(Decimal(1).scaleb(place), ROUND_HALF_UP), Decimal(1).scaleb(place))
    rounded = Decimal(value).quantize(Decimal(1).scaleb(place), ROUND_HALF_UP)
    digits = max(0, -place)
    text = f"{abs(rounded):.{digits}f}({rounded_u:.{digits}f})"
    sign = MINUS if rounded < 0 else ""
    return sign + text + (NBSP + unit if unit else "")


PAIRS = [
    (512.34, 1.1, "N"), (512.34, 1.149, "N"), (0.0, 0.31, "N"), (-0.04, 0.31, "N"), (-0.004, 0.31, "N"),
    (-8.76, 0.3, "N"), (99.96, 0.2, "N"), (999.96, 1.0, "N"), (48.2049, 0.0952, "N"), (48.2, 0.0996, "N"),
    (1500.0, 9.96, "N"), (1500.0, 99.6, "N"), (1512.0, 104.0, "N"), (1512.0, 127.0, "N"), (51234.0, 1234.0, "N"),
    (30.0, 1234.0, "N"), (45.0, 990.0, "N"), (55.0, 100.0, "N"), (-55.0, 100.0, "N"), (3.2104, 0.0042, "s"),
    (0.021, 0.00049, "s"), (1e-05, 2e-06, "s"), (4.2, 1.93, "%"), (-4.25, 1.0, "%"), (0.25, 0.5, "%"),
    (0.125, 0.25, "%"), (0.375, 0.1, "%"), (2.5, 0.25, "N·s"), (1.005, 0.1, "N"), (1.015, 0.1, "N"),
    (1234.5, 10.5, "N/s"), (1234.5, 0.95, "N·s"), (1.0, 0.995, "N"), (1.0, 9.95, "N"), (1234567.0, 1.5, "N"),
    (7.0, 0.00000123, ""), (149.99999999999997, 250.0, "N"), (150.0, 1000.0, "N"), (1.0, 1e-12, "N"),
    (1.25, 1.26e-09, "s"),
]

cases = [{"value": v, "standardUncertainty": u, "unit": unit, "text": write(v, u, unit)} for v, u, unit in PAIRS]
print("[")
print(",\n".join("  " + json.dumps(case, ensure_ascii=True) for case in cases))
print("]")
