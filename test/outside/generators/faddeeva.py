#!/usr/bin/env python3
"""Reference values of the Faddeeva function, 40 digits, for test/outside/faddeeva.test.ts.

    python3 test/outside/generators/faddeeva.py > test/outside/fixtures/faddeeva.json

Made 2026-11-25 with Python 3, mpmath 1.3.0, in about two minutes. Independent of the code under test:
w(z) = exp(-z^2) erfc(-iz) evaluated with working precision raised by the size of the exponent, so that the
product keeps 40 digits (20 are written).

Points are doubles (their decimal repr is exact enough to give the same double back). Each group visits its
region half linearly, half by orders of magnitude.
"""
import json
import random
import sys

import mpmath as mp


def w(x, y):
    # exp(-z^2) erfc(-iz): for large |z| the factors are as small or large as exp(+-|z|^2)
    size = x * x + y * y
    if size > 900:  # erfc by its own asymptotic series would need no more; use the continued fraction by mpmath's U
        mp.mp.dps = 60
        z = mp.mpc(x, y)
        # Laplace's continued fraction, many terms; exact to 40 digits for |z| > 30
        f = mp.mpf(0)
        for n in range(200, 0, -1):
            f = mp.mpf(n) / 2 / (z - f)
        value = mp.mpc(0, 1) / mp.sqrt(mp.pi) / (z - f)
        if y < 1e-3 and x * x < 1e5:
            # below the Stokes line's width the exponential stands in full
            value += mp.exp(-z * z)
        return value
    mp.mp.dps = 60 + int(size)
    z = mp.mpc(x, y)
    return mp.exp(-z * z) * mp.erfc(-mp.mpc(0, 1) * z)


def loguniform(rng, low, high):
    return low * (high / low) ** rng.random()


def main():
    rng = random.Random(20261125)
    groups = {}

    def group(name, count, draw):
        rows = []
        for _ in range(count):
            x, y = draw()
            value = w(x, y)
            mp.mp.dps = 40
            rows.append([repr(x), repr(y), mp.nstr(value.real, 20), mp.nstr(value.imag, 20)])
        groups[name] = rows

    group("core", 1500, lambda: (rng.uniform(0, 8), rng.uniform(0, 8)))
    group("core, small y", 1000, lambda: (rng.uniform(0, 8), loguniform(rng, 1e-12, 0.3)))
    group("core, tiny y", 600, lambda: (rng.uniform(0, 9), loguniform(rng, 1e-300, 1e-12)))
    group("core, small x", 400, lambda: (loguniform(rng, 1e-12, 0.3), rng.uniform(0, 8)))
    group("near the origin", 200, lambda: (loguniform(rng, 1e-12, 1), loguniform(rng, 1e-12, 1)))
    group("around |z| = 8", 400, lambda: ring(rng, 7.5, 8.5))
    group("middle, 8 < |z| < 30", 500, lambda: ring(rng, 8, 30))
    group("middle, tiny y", 400, lambda: (rng.uniform(8, 27), loguniform(rng, 1e-300, 1e-4)))
    group("far", 500, lambda: (loguniform(rng, 20, 1e12), loguniform(rng, 1e-12, 1e12)))
    group("far, tiny y", 200, lambda: (loguniform(rng, 30, 1e150), loguniform(rng, 1e-300, 1e-3)))
    group("huge", 100, lambda: (loguniform(rng, 1e100, 1e300), loguniform(rng, 1e100, 1e300)))
    group("real axis", 200, lambda: (rng.uniform(0, 26), 0.0))
    group("imaginary axis", 200, lambda: (0.0, loguniform(rng, 1e-6, 1e6)))
    lines = []
    for name, rows in groups.items():
        body = ",\n".join(json.dumps(row, separators=(",", ":")) for row in rows)
        lines.append(f"{json.dumps(name)}: [\n{body}\n]")
    head = '{"columns": ["x", "y", "Re w", "Im w"], "groups": {\n'
    sys.stdout.write(head + ",\n".join(lines) + "\n}}\n")


def ring(rng, inner, outer):
    angle = rng.choice([rng.uniform(0, 1.5707963), loguniform(rng, 1e-9, 1.5)])
    radius = rng.uniform(inner, outer)
    z = radius * mp.expjpi(angle / 3.141592653589793)
    return float(z.real), float(abs(z.imag))


main()
