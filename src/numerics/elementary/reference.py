"""Writes reference.json: arguments and results of elementary functions, each result as two doubles of together 106 bits.

    python3 reference.py > reference.json        # needs mpmath
"""
import json
import random

import mpmath as m
from mpmath import mp, mpf

mp.prec = 2400
random.seed(20261126)

FUNCTIONS = {
    "exp": m.exp, "expm1": m.expm1, "log": m.log, "log1p": m.log1p, "log10": m.log10, "sin": m.sin, "cos": m.cos,
    "tan": m.tan, "asin": m.asin, "atan": m.atan, "atan2": m.atan2, "sinh": m.sinh, "cosh": m.cosh, "asinh": m.asinh,
    "cbrt": lambda x: m.sign(x) * m.root(abs(x), 3), "pow": m.power, "hypot": lambda *a: m.sqrt(sum(x * x for x in a)),
}


def spread(low, high, count=12):
    return [random.uniform(low, high) for _ in range(count)]


def decades(low, high, sign=False, count=12):
    return [10 ** random.uniform(low, high) * (random.choice([-1, 1]) if sign else 1) for _ in range(count)]


ANGLES = (spread(-0.8, 0.8) + spread(-20, 20) + spread(-1e6, 1e6) + decades(6, 300, True) + decades(-9, 0, True)
          + [k * float(m.pi / 2) for k in (1, 2, 3, 7, 100, 65537)])
ARGUMENTS = {
    "exp": spread(-708, 709, 20) + spread(-1, 1) + spread(-745, -708) + decades(-12, 0, True),
    "expm1": spread(-40, 60) + spread(-1, 1, 20) + decades(-15, 0, True),
    "log": decades(-307, 308) + spread(0.4, 2.5, 20) + decades(-323, -308) + [1 + x for x in decades(-15, -1, True)],
    "log1p": spread(-0.99, 3, 20) + decades(-18, 0, True)[:8] + decades(0, 300),
    "log10": decades(-307, 308) + spread(0.4, 2.5, 20) + decades(-323, -308) + [1e3, 1e-5, 1e15, 1e22],
    "sin": ANGLES, "cos": ANGLES, "tan": ANGLES,
    "asin": spread(-1, 1, 20) + [1 - x for x in decades(-15, -1)] + decades(-12, 0, True),
    "atan": spread(-1, 1, 20) + spread(-9, 9, 20) + decades(-12, 20, True),
    "sinh": spread(-1, 1) + spread(-40, 40) + spread(-710, 710) + decades(-12, 0, True),
    "cosh": spread(-1, 1) + spread(-40, 40) + spread(-710, 710),
    "asinh": spread(-1, 1) + decades(-12, 200, True),
    "cbrt": decades(-320, 308, True, 20) + [27.0, -1e-3, 2.0],
}
PAIRS = {
    "atan2": [(random.uniform(-1, 1), random.uniform(-1, 1)) for _ in range(30)]
    + list(zip(decades(-150, 150, True, 12), decades(-150, 150, True, 12))),
    "pow": list(zip(decades(-3, 3, False, 30), spread(-40, 40, 30))) + list(zip([1 + x for x in decades(-9, -2, True)], spread(-1e4, 1e4)))
    + list(zip(decades(-300, 300), spread(-1, 1))) + [(10.0, 15.0), (10.0, -5.0), (2.0, -1074.0), (3.0, 33.0), (7.0, 0.5)],
    "hypot": list(zip(decades(-3, 3, True, 20), decades(-3, 3, True, 20))) + list(zip(decades(150, 300, True, 6), decades(150, 300, True, 6)))
    + list(zip(decades(-300, -150, True, 6), decades(-300, -150, True, 6))),
}

out = {}
for name, rows in [*((n, [(x,) for x in xs]) for n, xs in ARGUMENTS.items()), *PAIRS.items()]:
    out[name] = []
    for row in rows:
        value = FUNCTIONS[name](*map(mpf, row))
        if not abs(value) < mpf(2) ** 1023:
            continue
        high = float(value)
        out[name].append([*row, high, float(value - mpf(high))])
print("{\n" + ",\n".join(f' "{n}": {json.dumps(r)}' for n, r in out.items()) + "\n}")
