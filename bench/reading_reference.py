"""The rival of bench/reading.ts: the same full-pixel fit of one hot picture by vectorised numpy and scipy.optimize.least_squares.

Level camera, straight lines, wavelength scale given: less to do than the program has. Same physics: Voigt lines by scipy.special.wofz, seven heights of the
beam, gradient and its change over the beam, both slits' images. The same pixels as the program's, those near the curve, are fitted and nothing else is drawn; Jacobian by
forward differences, as scipy does by itself.

    python3 bench/reading_reference.py JOB.json       prints {"seconds", "evaluations", "gradient", "density", "reducedChiSquare", "pixels", "parameters"} as JSON

JOB.json: {"file": raw little-endian 16-bit samples, "columns", "rows", "pixelsPerRadian", "slit": plumb slit's image in pixels, "noise": [variance in the dark, variance per light],
"lines": [{"wavelength" m, "f", "natural" Hz, "self" Hz m3, "mass" kg}], "length" m, "temperature" K, "beam" m, "start": {"gradient" m-3, "density" m-2, "places" pixels, "light"}}
"""
import json
import sys
import time

import numpy as np
from scipy.ndimage import convolve1d
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
    """The model on the pixels that are fitted, and on nothing else: a list of (row, fine column) near the curve, seven heights at once."""

    def __init__(self, job):
        self.job = job
        columns, rows = job["columns"], job["rows"]
        self.light = np.fromfile(job["file"], dtype="<u2").reshape(rows, columns) / 65535.0
        self.height = rows / 2 - (np.arange(rows) + 0.5)
        self.fine = (np.arange(columns * SUB) + 0.5) / SUB - columns / 2
        self.nodes, weights = np.polynomial.legendre.leggauss(7)
        self.weights = weights / 2

    def near(self, p, reach):
        """Mask rows x columns: within so many rows of the light of any height, as long as there is any."""
        place, lit = self.curve(p)
        mask = np.zeros((len(self.height), len(self.fine)), dtype=bool)
        for k in range(len(self.nodes)):
            for c in np.flatnonzero(lit[k] > 1e-3 * self.weights[k]):
                # A steep branch covers all rows that it crosses within the fine column.
                ends = place[k, max(c - 1, 0): c + 2]
                top, bottom = ends.max() + reach, ends.min() - reach
                mask[max(0, int(len(self.height) / 2 - top)): max(0, int(len(self.height) / 2 - bottom) + 1), c] = True
        return mask.reshape(len(self.height), -1, SUB).any(axis=2)

    def choose(self, p, reach):
        """Fixes the pixels to be fitted and the fine places whose light reaches them."""
        fitted = self.near(p, reach)
        fitted[:, :8] = fitted[:, -8:] = False
        rows = np.flatnonzero(fitted.any(axis=1))
        self.rows = slice(rows[0], rows[-1] + 1)
        self.fitted = fitted[self.rows]
        wide = self.near(p, reach + 3)[self.rows]
        at = np.nonzero(np.repeat(wide, SUB, axis=1))
        self.at_row, self.at_fine = at
        self.at_height = self.height[self.rows][self.at_row]
        return self.light[self.rows][self.fitted]

    def curve(self, p):
        """Place and light of each height along the fine columns."""
        job = self.job
        gradient, density, change, ratio, first, second, offset, slope, bright, colour = p[:10]
        a, b = (line["wavelength"] for line in job["lines"])
        wavelength = a + (self.fine - first) * (b - a) / (second - first)
        kappa, sigma = per_atom(job, wavelength, density * 1e19 / job["length"], ratio)
        t = self.nodes[:, None]
        column = np.maximum(density * 1e19 + gradient * 1e21 * job["beam"] / 2 * t * (1 + t * change / 2), 0.0)
        place = offset + slope * self.fine + job["pixelsPerRadian"] * kappa * gradient * 1e21 * (1 + t * change)
        lit = self.weights[:, None] * bright * (1 + colour * self.fine / job["columns"]) * np.exp(-sigma * column)
        return np.clip(place, -1e4, 1e4), lit

    def model(self, p):
        dark, sx, sy, width = p[10:]
        place, lit = self.curve(p)
        sharp = np.zeros((self.fitted.shape[0], len(self.fine)))
        for k in range(len(self.nodes)):
            off = self.at_height - place[k, self.at_fine]
            here = np.flatnonzero(np.abs(off) < width / 2 + 1 + 6 * sy)
            sharp[self.at_row[here], self.at_fine[here]] += lit[k, self.at_fine[here]] * box_in_pixel(off[here], width, sy)
        half = int(np.ceil(1.5 + 5 * sx)) * SUB
        taps = box_in_pixel(np.arange(-half, half + 1) / SUB, self.job["slit"], sx)
        spread = convolve1d(sharp, taps / taps.sum(), axis=1, mode="nearest")
        return spread.reshape(spread.shape[0], -1, SUB).mean(axis=2)[self.fitted] + dark


def main():
    with open(sys.argv[1]) as f:
        job = json.load(f)
    started = time.process_time()
    picture = Picture(job)
    start = np.array([job["start"]["gradient"] / 1e21, job["start"]["density"] / 1e19, -0.1, 1.0, *job["start"]["places"], 0.0, 0.0, job["start"]["light"], 0.0, 0.01, 1.2, 1.2, 10.0])
    step = np.array([0.05, 0.1, 0.02, 0.01, 0.1, 0.1, 0.1, 1e-4, 0.01, 0.01, 1e-3, 0.05, 0.05, 0.1])
    light = picture.choose(start, 14)
    variance = job["noise"][0] + job["noise"][1] * np.maximum(light - 0.01, 0)
    fit = least_squares(lambda q: (picture.model(q * step) - light) / np.sqrt(variance), start / step, method="trf", x_scale="jac", diff_step=1e-5, ftol=1e-6, xtol=1e-6, max_nfev=40)
    p = fit.x * step
    print(json.dumps(dict(seconds=time.process_time() - started, evaluations=int(fit.nfev), gradient=p[0] * 1e21, density=p[1] * 1e19, reducedChiSquare=2 * fit.cost / (len(light) - len(p)), pixels=len(light), parameters=p.tolist())))


if __name__ == "__main__":
    main()
