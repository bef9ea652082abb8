#!/usr/bin/env python3
"""Optics of vapours recomputed from their printed components, for test/outside/vapour-index.test.ts.

    npx tsx test/outside/generators/print-components.ts \
      | python3 test/outside/generators/vapour_index.py > test/outside/fixtures/vapour-index.json

Made 2026-11-25 with Python 3, scipy 1.17.1, numpy 2.4.6. Independent of the code under test: scipy.special.wofz (the
Faddeeva package of S. G. Johnson) for w(z), constants of scipy.constants, formulas typed from the definition

    chi = sum N pop f w e^2/(2 m_e eps0 omega_q) [ (i sqrt(pi)/sigma) w(z) + 1/(omega_q + omega) ]
    z = (omega - omega_q - shift + i gamma/2)/sigma

Wavelengths: about each of the two strongest lines, from the core to 20 nm away on both sides.
"""
import json
import sys

import numpy as np
from scipy import constants as k
from scipy.special import wofz


def slope_of_w(z, w):
    # -2zw + 2i/sqrt(pi) loses digits far out; there the first terms of its series serve
    near = -2 * z * w + 2j / np.sqrt(np.pi)
    t = 1 / z**2
    series = -1j / np.sqrt(np.pi) * t * (1 + 1.5 * t + 3.75 * t**2 + 105 / 8 * t**3 + 945 / 16 * t**4)
    return np.where(np.abs(z) < 60, near, series)


def optics(state, components, wavelength):
    omega = 2 * np.pi * k.c / wavelength
    chi = np.zeros(len(omega), complex)
    slope = np.zeros(len(omega), complex)
    for c in components:
        own = 2 * np.pi * k.c / c["wavelength"]
        f = c["oscillatorStrength"] * c["weight"] * c["population"]
        a = state["density"] * f * k.e**2 / (2 * k.m_e * k.epsilon_0 * own)
        s = c["dopplerWidth"]
        z = (omega - own - c["shift"] + 0.5j * c["lorentzWidth"]) / s
        w = wofz(z)
        chi += a * (1j * np.sqrt(np.pi) / s * w + 1 / (own + omega))
        slope += a * (1j * np.sqrt(np.pi) / s**2 * slope_of_w(z, w) - 1 / (own + omega) ** 2)
    n = np.sqrt(1 + chi)
    minus_one = chi / (1 + n)
    group = 1 + minus_one.real + omega * (slope / (2 * n)).real
    return chi, minus_one.real, 2 * omega * minus_one.imag / k.c, group


def wavelengths(components):
    strength = {}
    for c in components:
        strength.setdefault(c["line"], [0, 0])
        strength[c["line"]][0] += c["oscillatorStrength"] * c["weight"] * c["population"]
        strength[c["line"]][1] += c["wavelength"] * c["weight"]
    strongest = sorted(strength.values(), reverse=True)[:2]
    offsets = np.concatenate([[0], np.geomspace(1e-14, 20e-9, 45)])
    return np.concatenate([np.concatenate([centre - offsets[:0:-1], centre + offsets]) for _, centre in strongest])


def main():
    cases = []
    for case in json.load(sys.stdin):
        lam = wavelengths(case["components"])
        chi, refractivity, absorption, group = optics(case["state"], case["components"], lam)
        cases.append(
            {
                **case,
                "wavelength": lam.tolist(),
                "chiRe": chi.real.tolist(),
                "chiIm": chi.imag.tolist(),
                "refractivity": refractivity.tolist(),
                "absorption": absorption.tolist(),
                "groupIndex": group.tolist(),
            }
        )
    body = ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases)
    print('{"cases": [\n' + body + "\n]}")


main()
