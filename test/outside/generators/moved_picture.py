"""Potassium's red pair behind a grating, both slits off the axis, out of focus: the same independent renderer as vapour_picture.py.

The grating's scale is its equation written out: x = f tan(theta - theta0), sin theta = g lambda, to the second power of x. Slits aside: the level slit's image by d F/f1 f4/f3 the other
way, the plumb slit's by its own f4/f3 over cos theta. Needs numpy and scipy; a few seconds.

    python3 test/outside/generators/moved_picture.py > test/outside/fixtures/moved-picture.json
"""
import json
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))
import vapour_picture as base  # noqa: E402

G, F_CAMERA, F_THIRD, F_FIRST, F_FOCUS = 6e5, 0.4, 0.3, 0.25, 0.3
PIXEL, CENTRE = 1.2e-5, 768.4046e-9
LEVEL_OFFSET, PLUMB_OFFSET, LEVEL, PLUMB, DEFOCUS = 80e-6, 60e-6, 90e-6, 25e-6, 24e-6
SINE = G * CENTRE
COSINE = np.sqrt(1 - SINE**2)
RELAY = F_CAMERA / F_THIRD
ASIDE = PLUMB_OFFSET * RELAY / COSINE / PIXEL
SLOPE, BEND = COSINE / (G * F_CAMERA) * PIXEL, -SINE / (2 * G * F_CAMERA**2) * PIXEL**2
# Flat light: what a column gets goes with its stretch of wavelengths, 1 in the brightest column of the picture.
HALF = 70
FALL = HALF * 2 * BEND / SLOPE
CASE = {
    **base.CASE,
    "columns": 2 * HALF, "rows": 90, "colour_slope": FALL, "dim": 1 / (1 + abs(FALL)),
    # Column 0 of the scale is the middle of the picture, where the light stands that fell ASIDE to its left before.
    "scale": [CENTRE - SLOPE * ASIDE + BEND * ASIDE**2, SLOPE - 2 * BEND * ASIDE, BEND],
    "pixels_per_radian": F_FOCUS * RELAY / PIXEL,
    "offset": -LEVEL_OFFSET / F_FIRST * F_FOCUS * RELAY / PIXEL,
    "level_height": LEVEL / F_FIRST * F_FOCUS * RELAY / PIXEL, "plumb_width": PLUMB * RELAY / COSINE / PIXEL,
    "sigma_x": DEFOCUS / PIXEL, "sigma_y": DEFOCUS / PIXEL,
    "roll": 0.0, "slit_tilt": 0.0, "plumb_tilt": 0.0,
    # Light that meets the grating at a height y/f leaves with a bow of tan(theta0)/(2 f) y squared, to the red.
    "smile": SINE / COSINE / (2 * F_CAMERA) * PIXEL,
}

if __name__ == "__main__":
    light = CASE["dim"] * base.ir.curve_light({**base.ir.DEFAULTS, **CASE}, True)
    json.dump({"source": "test/outside/generators/moved_picture.py", "case": CASE, "light": [round(float(v), 5) for v in light.ravel()]}, sys.stdout)
