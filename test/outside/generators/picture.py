"""Independent renderer of a crossed-prism picture: same physics, other method, other language.

Every beam height and each of many thousand wavelengths adds kx(column) * ky(row), both folded in closed form from slit image, pixel and Gaussian,
as one matrix product per height. No light is shared out, gathered or interpolated. Needs numpy and scipy; a minute or two.

    python3 test/outside/generators/picture.py > test/outside/fixtures/picture.json
"""
import json
import sys

import numpy as np
from scipy.special import ndtr

CASE = {
    "pixel": 10e-6, "columns": 160, "rows": 120,
    "centre": 768.4e-9, "wavelengthPerLength": 2e-6,
    "perRadian": 0.5, "levelSlitHeight": 70e-6, "plumbSlitWidth": 26e-6, "blur": 6e-6,
    "roll": 0.012, "levelSlitTilt": -0.004, "smile": 30.0, "stray": 0.002,
    "heights": 15,
    "lines": [{"wavelength": 767.9e-9, "bend": -4.0e-14, "dark": 1.5e-21}, {"wavelength": 769.0e-9, "bend": -2.0e-14, "dark": 0.7e-21}],
    "slope": 0.25,
}


# Strips into which the images of plumb and level slit are cut.
ACROSS, UP = 3, 8


def curves(case, w):
    """Deflection (rad) and transmission per height, heights x wavelengths."""
    h = case["heights"]
    y = ((np.arange(h) + 0.5) / h - 0.5)[:, None]
    theta = np.zeros((1, w.size))
    depth = np.zeros((1, w.size))
    for line in case["lines"]:
        d = w - line["wavelength"]
        theta = theta + line["bend"] * d / (d * d + 1e-24)
        depth = depth + line["dark"] / (d * d + 1e-24)
    return theta * (1 + case["slope"] * y) + 2e-5, np.exp(-depth * (1 - 0.5 * case["slope"] * y))


def ramp(u, s):
    return u * ndtr(u / s) + s * np.exp(-0.5 * (u / s) ** 2) / np.sqrt(2 * np.pi)


def spread(u, slit, s):
    a = slit / 2
    return (ramp(u + a + 0.5, s) - ramp(u + a - 0.5, s) - ramp(u - a + 0.5, s) + ramp(u - a - 0.5, s)) / slit


def render(case, per_pixel=100):
    p = case["pixel"]
    c, r = case["columns"], case["rows"]
    x = (np.arange(-10 * per_pixel, (c + 10) * per_pixel) + 0.5) / per_pixel - c / 2
    w = case["centre"] + case["wavelengthPerLength"] * x * p
    theta, light = curves(case, w)
    slit_y, slit_x, s = case["levelSlitHeight"] / p, case["plumbSlitWidth"] / p, case["blur"] / p
    out = np.zeros((r, c))
    cols = np.arange(c) + 0.5
    rows = np.arange(r) + 0.5
    for h in range(case["heights"]):
        own = theta[h] * case["perRadian"] / p
        up = own + np.tan(case["levelSlitTilt"]) * x
        lit = (np.abs(up) < r) & (light[h] > 1e-9)
        # The disperser bows the lines by the height along its slit; the slope comes after.
        xs, ys, t = x[lit] + case["smile"] * p * own[lit] ** 2, up[lit], light[h][lit]
        cr, sr = np.cos(case["roll"]), np.sin(case["roll"])
        # Slit images turn with the camera, the round blur and the pixel do not: a rectangle of strips, as high and as wide as the images, turned.
        for dx in strips(slit_x, ACROSS):
            for dy in strips(slit_y, UP):
                u = c / 2 + (xs + dx) * cr - (ys + dy) * sr
                v = r / 2 - ((xs + dx) * sr + (ys + dy) * cr)
                for i in range(0, u.size, 4000):
                    k = slice(i, i + 4000)
                    kx = spread(cols[:, None] - u[None, k], slit_x / ACROSS, s)
                    ky = spread(rows[:, None] - v[None, k], slit_y / UP, s) * t[None, k]
                    out += ky @ kx.T / per_pixel / case["heights"] / ACROSS / UP
    return out / spread(0.0, slit_y, s) + case["stray"]


def strips(size, count):
    """Middles of the equal strips of a slit's image."""
    return ((np.arange(count) + 0.5) / count - 0.5) * size


if __name__ == "__main__":
    picture = render(CASE)
    json.dump({"source": "test/outside/generators/picture.py", "case": CASE, "light": [round(float(v), 6) for v in picture.ravel()]}, sys.stdout)
