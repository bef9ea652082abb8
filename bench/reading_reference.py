"""The rival of bench/reading.ts: the same full-pixel fit of one hot picture by vectorised numpy and scipy.optimize.least_squares.

Level camera, straight lines, wavelength scale given: less to do than the program has. Same physics: Voigt lines by scipy.special.wofz, seven heights of the
beam, gradient and its change over the beam, both slits' images. Every pixel near the curve is fitted; Jacobian by forward differences, as scipy does by itself.

    python3 bench/reading_reference.py JOB.json       prints {"seconds", "evaluations", "gradient", "density", "reducedChiSquare"} as JSON

JOB.json: {"file": raw little-endian 16-bit samples, "columns", "rows", "scale": [m at the middle column, m per pixel], "pixelsPerRadian", "lines":
[{"wavelength" m, "f", "natural" Hz, "self" Hz m3, "mass" kg}], "length" m, "temperature" K, "beam" m, "start": {"gradient" m-3, "density" m-2}}
"""
import json
import sys
import time

import numpy as np
from scipy.optimize import least_squares
from scipy.special import erf, wofz

C = 299792458.0
R_E = 2.8179403262e-15
K_B = 1.380649e-23
SUB = 2


def per_atom(job, wavelength, density, ratio):
    """(n - 1)/N in m3 and the absorption cross-section in m2; the weaker line's strength over its published one is 1/ratio."""
    omega = 2 * np.pi * C / wavelength
    chi = np.zeros_like(omega, dtype=complex)
    for k, line in enumerate(job["lines"]):
        f = line["f"] if k == 0 else line["f"] / ratio
        at = 2 * np.pi * C / line["wavelength"]
        sigma = at * np.sqrt(2 * K_B * job["temperature"] / line["mass"]) / C
        gamma = 2 * np.pi * (line["natural"] + line["self"] * density)
        z = (omega - at + 0.5j * gamma) / sigma
        chi += 4 * np.pi * R_E * C**2 * f / (2 * at) * (1j * np.sqrt(np.pi) / sigma * wofz(z) + 1 / (at + omega))
    return chi.real / 2, omega / C * chi.imag


def integral(t):
    """Integral of the normal distribution's integral."""
    return t * 0.5 * (1 + erf(t / np.sqrt(2))) + np.exp(-0.5 * t * t) / np.sqrt(2 * np.pi)


def box_in_pixel(v, width, sigma):
    """A box of this width blurred by a Gaussian, as a pixel sees it."""
    a, b, h = (v + width / 2) / sigma, (v - width / 2) / sigma, 0.5 / sigma
    return sigma * (integral(a + h) - integral(a - h) - integral(b + h) + integral(b - h))


class Picture:
    def __init__(self, job):
        self.job = job
        columns, rows = job["columns"], job["rows"]
        light = np.fromfile(job["file"], dtype="<u2").reshape(rows, columns) / 65535.0
        self.height = job["rows"] / 2 - (np.arange(rows) + 0.5)
        self.fine = (np.arange(columns * SUB) + 0.5) / SUB - columns / 2
        self.nodes, weights = np.polynomial.legendre.leggauss(7)
        self.weights = weights / 2
        self.light = light

    def model(self, p, rows=slice(None)):
        job = self.job
        gradient, density, change, ratio, first, second, offset, slope, bright, colour, dark, sx, sy, width = p
        a, b = (line["wavelength"] for line in job["lines"])
        wavelength = a + (self.fine - first) * (b - a) / (second - first)
        kappa, sigma = per_atom(job, wavelength, density * 1e19 / job["length"], ratio)
        out = 0
        for t, w in zip(self.nodes, self.weights):
            column = density * 1e19 + gradient * 1e21 * job["beam"] / 2 * t * (1 + t * change / 2)
            place = offset + slope * self.fine + job["pixelsPerRadian"] * kappa * gradient * 1e21 * (1 + t * change)
            place = np.clip(place, -1e4, 1e4)
            lit = w * bright * (1 + colour * self.fine / job["columns"]) * np.exp(-sigma * max(column, 0.0))
            out = out + lit * box_in_pixel(self.height[rows, None] - place[None, :], width, sy)
        half = int(np.ceil(1.5 + 5 * sx)) * SUB
        offsets = np.arange(-half, half + 1) / SUB
        taps = box_in_pixel(offsets, job["slit"], sx)
        taps /= taps.sum()
        size = out.shape[1] + len(taps)
        n = 1 << int(np.ceil(np.log2(size)))
        spread = np.fft.irfft(np.fft.rfft(out, n, axis=1) * np.fft.rfft(taps, n), n, axis=1)[:, half: half + out.shape[1]]
        return spread.reshape(spread.shape[0], -1, SUB).mean(axis=2) + dark


def main():
    with open(sys.argv[1]) as f:
        job = json.load(f)
    started = time.process_time()
    picture = Picture(job)
    start = np.array([job["start"]["gradient"] / 1e21, job["start"]["density"] / 1e19, -0.1, 1.0, *job["start"]["places"], 0.0, 0.0, 0.5, 0.0, 0.01, 1.2, 1.2, 10.0])
    step = np.array([0.05, 0.1, 0.02, 0.01, 0.1, 0.1, 0.1, 1e-4, 0.01, 0.01, 1e-3, 0.05, 0.05, 0.1])
    first = picture.model(start)
    lit = np.flatnonzero((first > start[10] + 1e-3).any(axis=1))
    rows = slice(max(0, lit[0] - 12), min(job["rows"], lit[-1] + 13))
    near = first[rows] > start[10] + 1e-3
    for axis, reach in ((0, 6), (1, 5)):
        near = np.logical_or.reduce([np.roll(near, s, axis) for s in range(-reach, reach + 1)])
    light = picture.light[rows][near]
    variance = job["noise"][0] + job["noise"][1] * np.maximum(light - 0.01, 0)
    fit = least_squares(lambda q: (picture.model(q * step, rows)[near] - light) / np.sqrt(variance), start / step, method="trf", x_scale="jac", ftol=1e-8, max_nfev=60)
    p = fit.x * step
    print(json.dumps(dict(seconds=time.process_time() - started, evaluations=int(fit.nfev), gradient=p[0] * 1e21, density=p[1] * 1e19, reducedChiSquare=2 * fit.cost / (len(light) - len(p)), pixels=len(light))))


if __name__ == "__main__":
    main()
