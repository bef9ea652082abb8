"""A whole picture of potassium's red pair by numpy and scipy: profiles by scipy.special.wofz, light laid on a finer grid and summed into pixels.

Uses bench/campaign/independent_renderer.py, which shares no code and no tables with the program. Strengths, wavelengths and natural widths are written here from
the published tables (Morton 2003; Wang et al. 1997 for the widths); self-broadening by r_e c f lambda/pi sqrt(g_g/g_e) (Hz m3). Needs numpy and scipy; a few seconds.

    python3 test/outside/generators/vapour_picture.py > test/outside/fixtures/vapour-picture.json
"""
import json
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[3] / "bench" / "campaign"))
import independent_renderer as ir  # noqa: E402

R_E, C = 2.8179403262e-15, 299792458.0
MASS = 39.0983 * 1.66053906660e-27


def line(wavelength, f, natural, g_upper):
    return {
        "wavelength": wavelength, "f": f, "natural": natural, "gas": 0.0, "mass": MASS,
        "self": R_E * C * f * wavelength / np.pi * np.sqrt(2 / g_upper),
    }


CASE = {
    "columns": 180, "rows": 110, "scale": [768.4046e-9, 3.0e-11, 0.0], "pixels_per_radian": 3.0e4,
    "lines": [line(766.70089e-9, 0.6661, 6.035e6, 4), line(770.10835e-9, 0.3318, 5.956e6, 2)],
    "column": 8.8e19, "gradient": -6.7e21, "change": 0.14, "length": 0.15, "temperature": 430.0, "beam": 4e-3,
    "level_height": 9.0, "plumb_width": 2.6, "sigma_x": 0.8, "sigma_y": 2.4,
    "roll": 0.02, "slit_tilt": 0.006, "plumb_tilt": -0.006, "smile": 8e-4,
}

if __name__ == "__main__":
    bench = {**ir.DEFAULTS, **CASE}
    light = ir.curve_light(bench, True)
    json.dump({"source": "test/outside/generators/vapour_picture.py", "case": CASE, "light": [round(float(v), 5) for v in light.ravel()]}, sys.stdout)
