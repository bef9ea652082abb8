"""Crossed-prism pictures drawn by numpy and scipy alone: an outside eye on the forecast, the reading and the diagnosis.

Shares no code and no tables with the program: profiles by scipy.special.wofz, light laid on a finer grid and summed into pixels. Its own simplifications:
single lines without hyperfine parts, gradient and offset change linearly over an evenly lit beam. Invented data.

    python3 bench/campaign/independent_renderer.py JOBS.json

JOBS.json: {"frames": [{...bench, "kind": "hot" | "cold" | "lamp", "file": PATH.png, "seed": 1}, ...]}; each frame becomes a grey PNG.
A bench, lengths in pixels where not said otherwise, everything but the first five with a default:
  columns, rows, scale [m at the middle column, m per pixel, m per pixel squared], pixels_per_radian (negative: picture upside down),
  lines [{wavelength m, f, natural Hz FWHM, self Hz m3, gas Hz FWHM, mass kg}],
  column m-2, gradient m-3 (integrals along the beam, middle of the beam), change (of the gradient, middle to upper edge, share),
  offset_change, length m, temperature K, beam m, level_height, plumb_width, sigma_x, sigma_y, offset, bend (1/pixel), roll rad, slit_tilt rad, plumb_tilt rad, smile 1/pixel,
  colour_slope (light at the right end over the middle, less 1), electrons, full_well, read_noise, black, bits, gamma, stray, dim, filters [red, green, blue] (mosaic, red in the upper left corner), patches [[middle, width, loss]...],
  patch_rows [[row, height, loss]...], mirrored, shimmer (gradient times), margin (drawn beyond the edges), lamp [{wavelength m, height}]
"""
import json
import struct
import sys
import zlib

import numpy as np
from scipy.special import wofz

C = 299792458.0
R_E = 2.8179403262e-15
K_B = 1.380649e-23
DEFAULTS = dict(
    column=0.0, gradient=0.0, change=0.0, offset_change=0.0, length=0.3, temperature=500.0, beam=8e-3, level_height=12.0, plumb_width=3.0, sigma_x=1.0, sigma_y=1.0,
    offset=0.0, bend=0.0, roll=0.0, slit_tilt=0.0, plumb_tilt=0.0, smile=0.0, colour_slope=0.0, electrons=10000.0, full_well=15000.0, read_noise=3.0, black=0.01,
    bits=16, gamma=1.0, stray=0.0, dim=1.0, filters=[1.0, 1.0, 1.0], patches=[], patch_rows=[], mirrored=False, shimmer=1.0, lamp=[], lines=[], kind="hot", seed=1, margin=24,
)
SUB_X, SUB_Y = 3, 4


def per_atom(b, wavelength, density):
    """(n - 1)/N in m3 and the absorption cross-section in m2."""
    omega = 2 * np.pi * C / wavelength
    chi = np.zeros_like(omega, dtype=complex)
    for line in b["lines"]:
        at = 2 * np.pi * C / line["wavelength"]
        sigma = at * np.sqrt(2 * K_B * b["temperature"] / line["mass"]) / C
        gamma = 2 * np.pi * (line["natural"] + line["self"] * density + line["gas"])
        z = (omega - at + 0.5j * gamma) / sigma
        chi += 4 * np.pi * R_E * C**2 * line["f"] / (2 * at) * (1j * np.sqrt(np.pi) / sigma * wofz(z) + 1 / (at + omega))
    return chi.real / 2, omega / C * chi.imag


def spread(width, sigma, sub):
    """Box of a slit's image and Gaussian blur on the finer grid."""
    half = int(np.ceil((width / 2 + 5 * sigma) * sub)) + 1
    fine = 16
    x = (np.arange(-half * fine, half * fine + 1)) / (fine * sub)
    # Shares of the fine cells inside the slit: with the cells at both ends counted whole the slit would be one cell, 1/64 of a pixel along the height, too wide.
    box = np.clip((max(width, 1e-3) / 2 - np.abs(x)) * fine * sub + 0.5, 0, 1)
    if sigma > 0:
        g = np.exp(-0.5 * (x / sigma) ** 2)
        box = np.convolve(box, g / g.sum(), mode="same")
    taps = np.array([box[max(0, (k + half) * fine - fine // 2): (k + half) * fine + fine // 2 + 1].sum() for k in range(-half, half + 1)])
    return taps / taps.sum()


def along_axis(image, taps, axis):
    half = len(taps) // 2
    size = image.shape[axis] + 2 * half
    n = 1 << int(np.ceil(np.log2(size + len(taps))))
    moved = np.moveaxis(image, axis, -1)
    out = np.fft.irfft(np.fft.rfft(moved, n) * np.fft.rfft(taps, n), n)[..., half: half + moved.shape[-1]]
    return np.moveaxis(out, -1, axis)


def to_picture(b, u, v):
    """Instrument's place (along the spectrum, up) to columns and rows of the picture."""
    x = u + b["smile"] * v * v - np.tan(b["plumb_tilt"]) * v
    y = v + np.tan(b["slit_tilt"]) * u
    c, s = np.cos(b["roll"]), np.sin(b["roll"])
    return b["columns"] / 2 + x * c - y * s, b["rows"] / 2 - (x * s + y * c)


def lay(b, column, row, light):
    """Light at points shared out on the finer grid, with a margin all round."""
    pad = b["margin"]
    nx, ny = (b["columns"] + 2 * pad) * SUB_X, (b["rows"] + 2 * pad) * SUB_Y
    x = (column + pad) * SUB_X - 0.5
    y = (row + pad) * SUB_Y - 0.5
    keep = (x > 0) & (x < nx - 2) & (y > 0) & (y < ny - 2)
    x, y, light = x[keep], y[keep], light[keep]
    i, j = x.astype(int), y.astype(int)
    fx, fy = x - i, y - j
    out = np.zeros(nx * ny)
    for shift, part in ((0, (1 - fx) * (1 - fy)), (1, fx * (1 - fy)), (nx, (1 - fx) * fy), (nx + 1, fx * fy)):
        out += np.bincount(j * nx + i + shift, weights=light * part, minlength=nx * ny)[: nx * ny]
    return out.reshape(ny, nx), pad


def turned(b, grid, width, height):
    """Images of the slits and the blur turned with the camera, that of the level slit leaning along a plumb slit out of plumb: products of the two-dimensional Fourier transform."""
    x = np.fft.rfftfreq(grid.shape[1])[None, :] * SUB_X
    y = np.fft.fftfreq(grid.shape[0])[:, None] * SUB_Y
    c, s, lean = np.cos(b["roll"]), np.sin(b["roll"]), np.tan(b["plumb_tilt"])
    # Cycles per pixel along the spectrum and along the slit; rows count downward.
    along, up = x * c - y * s, x * s + y * c
    blur = np.exp(-2 * np.pi**2 * ((b["sigma_x"] * along) ** 2 + (b["sigma_y"] * up) ** 2))
    images = np.sinc(width * along) * np.sinc(height * (up + lean * along))
    return np.fft.irfft2(np.fft.rfft2(grid) * images * blur, grid.shape)


def to_pixels(b, grid, pad, width, height):
    if b["roll"] != 0 or b["plumb_tilt"] != 0:
        grid = turned(b, grid, width, height)
    else:
        grid = along_axis(along_axis(grid, spread(width, b["sigma_x"], SUB_X), 1), spread(height, b["sigma_y"], SUB_Y), 0)
    sums = grid.reshape(b["rows"] + 2 * pad, SUB_Y, b["columns"] + 2 * pad, SUB_X).sum(axis=(1, 3))
    return np.maximum(sums[pad:-pad, pad:-pad], 0)


def curve_light(b, hot):
    reach = b["columns"] / 2 + b["margin"] - 2
    u = np.arange(-reach, reach, 0.05)
    wavelength = b["scale"][0] + u * (b["scale"][1] + u * b["scale"][2])
    colour = np.clip(1 + b["colour_slope"] * 2 * u / b["columns"], 0, None)
    nodes, weights = np.polynomial.legendre.leggauss(17)
    parts = []
    for t, w in zip(nodes, weights / 2):
        column = b["column"] * hot + b["gradient"] * hot * b["beam"] / 2 * t * (1 + t * b["change"] / 2)
        kappa, sigma = per_atom(b, wavelength, max(column, 0) / b["length"]) if hot else (0 * u, 0 * u)
        up = b["offset"] + b["bend"] * u * u + t * b["offset_change"]
        up = up + b["pixels_per_radian"] * kappa * b["gradient"] * b["shimmer"] * (1 + t * b["change"])
        picture = to_picture(b, u, np.clip(up, -3 * b["rows"], 3 * b["rows"]))
        parts.append((*picture, colour * np.exp(-sigma * max(column, 0)) * w * 0.05))
    grid, pad = lay(b, *(np.concatenate(part) for part in zip(*parts)))
    peak = spread(b["level_height"], b["sigma_y"], SUB_Y)
    top = np.convolve(peak, np.ones(SUB_Y), mode="valid").max()
    return to_pixels(b, grid, pad, b["plumb_width"], b["level_height"]) / top


def lamp_light(b):
    v = np.arange(-b["rows"] / 2 - b["margin"] + 2, b["rows"] / 2 + b["margin"] - 2, 0.1)
    grid = 0
    for line in b["lamp"]:
        d = line["wavelength"] - b["scale"][0]
        u = d / b["scale"][1]
        for _ in range(4):
            u = d / (b["scale"][1] + u * b["scale"][2])
        if abs(u) > b["columns"] / 2 + b["margin"] - 4:
            continue
        flat = dict(b, slit_tilt=0.0)
        part, pad = lay(b, *to_picture(flat, np.full_like(v, u), v), np.full_like(v, 0.1 * line["height"]))
        grid = grid + part
    top = np.convolve(spread(b["plumb_width"], b["sigma_x"], SUB_X), np.ones(SUB_X), mode="valid").max()
    return to_pixels(b, grid, pad, b["plumb_width"], 0.5) / top if np.ndim(grid) else np.zeros((b["rows"], b["columns"]))


def picture(bench):
    b = {**DEFAULTS, **bench}
    light = lamp_light(b) if b["kind"] == "lamp" else curve_light(b, 1.0 if b["kind"] == "hot" else 0.0)
    light = light * b["dim"]
    for middle, width, loss in b["patches"]:
        light = light * (1 - loss * np.exp(-0.5 * ((np.arange(b["columns"])[None, :] - middle) / width) ** 2))
    for middle, height, loss in b["patch_rows"]:
        light = light * (1 - loss * np.exp(-0.5 * ((np.arange(b["rows"])[:, None] - middle) / height) ** 2))
    light = light + b["stray"]
    if b["mirrored"]:
        light = light[:, ::-1]
    light = light.copy()
    for row, column, filter in ((0, 0, 0), (0, 1, 1), (1, 0, 1), (1, 1, 2)):
        light[row::2, column::2] *= b["filters"][filter]
    rng = np.random.default_rng(b["seed"])
    caught = np.minimum(rng.poisson(light * b["electrons"]), b["full_well"]) + b["read_noise"] * rng.standard_normal(light.shape)
    share = np.clip(b["black"] + (1 - b["black"]) * caught / b["full_well"], 0, 1)
    top = 65535 if b["bits"] == 16 else 255
    return np.rint(share ** (1 / b["gamma"]) * top).astype(">u2" if b["bits"] == 16 else "u1")


def png(samples):
    rows, columns = samples.shape
    def chunk(name, body):
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
    raw = samples.reshape(rows, columns).view("u1").reshape(rows, -1)
    lines = np.concatenate([np.zeros((rows, 1), "u1"), raw], axis=1).tobytes()
    header = struct.pack(">IIBBBBB", columns, rows, 8 * samples.dtype.itemsize, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(lines, 1)) + chunk(b"IEND", b"")


if __name__ == "__main__":
    with open(sys.argv[1]) as f:
        jobs = json.load(f)
    for frame in jobs["frames"]:
        with open(frame["file"], "wb") as f:
            f.write(png(picture(frame)))
