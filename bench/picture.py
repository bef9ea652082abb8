"""Rival of bench/picture.ts: the same picture by vectorised numpy (no Python loop over pixels, wavelengths or heights).

Reads the case as JSON on stdin, writes timings and a coarse picture as JSON on stdout. Method: wavelengths resampled so that the middle curve
moves by at most one pixel between neighbours, one weighted two-dimensional histogram over all heights with light shared between four pixels, then slit
images and blur by running sums (boxes) and a small Gaussian.
"""
import json
import sys
import time

import numpy as np


def per_atom(case, w):
    kappa = np.zeros_like(w)
    sigma = np.zeros_like(w)
    for line in case["lines"]:
        d = w - line["wavelength"]
        den = d * d + line["halfWidth"] ** 2
        kappa += line["bend"] * d / den
        sigma += line["dark"] / den
    return kappa, sigma


def box(a, width, axis):
    """Running mean of fractional width along an axis, by cumulated sums and linear interpolation of them."""
    n = a.shape[axis]
    pad = int(np.ceil(width / 2)) + 1
    padding = [(0, 0), (0, 0)]
    padding[axis] = (pad + 1, pad)
    s = np.cumsum(np.pad(a, padding), axis=axis)
    half = width / 2
    def at(offset):
        k = int(np.floor(offset))
        f = offset - k
        i = pad + k
        lo = np.take(s, range(i, i + n), axis=axis) if False else (s[i:i + n] if axis == 0 else s[:, i:i + n])
        hi = s[i + 1:i + 1 + n] if axis == 0 else s[:, i + 1:i + 1 + n]
        return lo * (1 - f) + hi * f
    return (at(half + 0.5) - at(-half + 0.5)) / width


def gauss(a, sigma, axis):
    r = int(np.ceil(4 * sigma))
    k = np.exp(-0.5 * (np.arange(-r, r + 1) / sigma) ** 2)
    k /= k.sum()
    n = a.shape[axis]
    padding = [(0, 0), (0, 0)]
    padding[axis] = (r, r)
    p = np.pad(a, padding)
    out = np.zeros_like(a)
    for i, v in enumerate(k):
        out += v * (p[i:i + n] if axis == 0 else p[:, i:i + n])
    return out


def render(case):
    p, c, r = case["pixel"], case["columns"], case["rows"]
    h = np.array(case["heights"])
    scale = case["perRadian"] / p
    base = (np.arange(-20, 8 * c + 21) / 8 - c / 2) * p * case["wavelengthPerLength"] + case["centre"]
    # Resample by length along the middle curve: at most one pixel of height, an eighth of a column, between neighbours.
    fine = np.unique(np.concatenate([base] + [l["wavelength"] + s * np.geomspace(1e-13, 3e-9, 6000) for l in case["lines"] for s in (-1, 1)]))
    k0, s0 = per_atom(case, fine)
    y = np.clip(k0 * case["gradient"] * scale, -0.6 * r, 0.6 * r)
    length = np.concatenate([[0], np.cumsum(np.hypot(np.diff(y), np.diff(fine) / (p * case["wavelengthPerLength"]) * 4))])
    w = np.interp(np.arange(0, length[-1], 0.5), length, fine)
    mid = (w[1:] + w[:-1]) / 2
    dw = np.diff(w)
    kappa, sigma = per_atom(case, mid)
    x = (mid - case["centre"]) / case["wavelengthPerLength"] / p + c / 2 - 0.5
    grad = case["gradient"] * (1 + case["slope"] * h)
    dens = case["density"] * (1 - case["slope"] * h)
    v = r / 2 - 0.5 - kappa[None, :] * grad[:, None] * scale
    light = np.exp(-sigma[None, :] * dens[:, None]) * (dw / (p * case["wavelengthPerLength"]) / h.size)[None, :]
    keep = (v > 0) & (v < r - 1.001) & (x[None, :] > 0) & (x[None, :] < c - 1.001) & (light > 1e-9)
    xx = np.broadcast_to(x[None, :], v.shape)[keep]
    vv = v[keep]
    ll = light[keep]
    i = xx.astype(np.int64)
    j = vv.astype(np.int64)
    fx, fy = xx - i, vv - j
    at = j * c + i
    out = np.zeros(r * c)
    for shift, part in ((0, (1 - fx) * (1 - fy)), (1, fx * (1 - fy)), (c, (1 - fx) * fy), (c + 1, fx * fy)):
        out += np.bincount(at + shift, weights=ll * part, minlength=r * c)[: r * c]
    out = out.reshape(r, c)
    out = box(out, case["levelSlitHeight"] / p, 0)
    out = box(out, case["plumbSlitWidth"] / p, 1)
    out = gauss(gauss(out, case["blur"] / p, 0), case["blur"] / p, 1)
    return out * (case["levelSlitHeight"] / p)


if __name__ == "__main__":
    case = json.load(sys.stdin)
    times = []
    cpu = []
    for _ in range(case["repeats"]):
        t = time.perf_counter()
        u = time.process_time()
        picture = render(case)
        cpu.append(time.process_time() - u)
        times.append(time.perf_counter() - t)
    json.dump({"seconds": times, "cpuSeconds": cpu, "numpy": np.__version__, "sample": picture[::40, ::8].ravel().round(5).tolist()}, sys.stdout)
