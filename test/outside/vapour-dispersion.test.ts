/**
 * Dispersion of vapours far from and between their lines: Ladenburg, Rev. Mod. Phys. 5, 243 (1933); Marlow, Appl. Opt. 6,
 * 1715 (1967); published tune-out wavelengths, arXiv:1307.7264 and Chin. Phys. B 25, 023101 (2016).
 */
import { describe, expect, it } from "vitest";
import {
  perAtom,
  tuneOuts,
  vapourResponse,
  type VapourState,
  zerosBetweenLines,
} from "../../src/medium/index.ts";
import { lineById, linesOf } from "../../src/reference/index.ts";
import { checkPublished } from "./published-check.ts";

/** A vapour in which only the named lines of the element act. */
function only(element: string, names: readonly string[], density: number): VapourState {
  const others = linesOf(element).filter((line) => !names.includes(line.name));
  const oscillatorStrength = Object.fromEntries(others.map((line) => [line.id, 0]));
  return { element, density, temperature: 500, overrides: { oscillatorStrength } };
}

describe("sodium, D lines alone", () => {
  for (const id of ["na-vapour-n-600", "na-vapour-n-580"]) {
    checkPublished(id, ({ inputs }) => {
      const wavelengths = Float64Array.of(inputs["lambda_vac_nm"] * 1e-9);
      return vapourResponse(only("Na", ["D1", "D2"], inputs["N_m-3"]), wavelengths).refractivity[0];
    });
  }

  checkPublished("na-zero-between-d", () => {
    const zeros = zerosBetweenLines(only("Na", ["D1", "D2"], 1e17), 589e-9, 590e-9);
    expect(zeros).toHaveLength(1);
    return zeros[0] * 1e9;
  });

  checkPublished("hook-na-d2", ({ inputs }) => {
    // hooks stand where L·d(n − 1)/dλ = −K on both sides of the line
    const state = only("Na", ["D2"], 1e15);
    const centre = lineById("NaI-589.16vac").wavelength;
    const steepness = (distance: number) => {
      const step = 1e-4 * Math.abs(distance);
      const two = Float64Array.of(centre + distance - step, centre + distance + step);
      const { refractivityPerDensity } = perAtom(state, two);
      return (-(refractivityPerDensity[1] - refractivityPerDensity[0]) / (2 * step)) * inputs["N_L_m-2"];
    };
    const hook = (side: number) => {
      let near = 0.05e-9;
      let far = 5e-9;
      for (let k = 0; k < 80; k++) {
        const middle = Math.sqrt(near * far);
        if (steepness(side * middle) > inputs["K"]) near = middle;
        else far = middle;
      }
      return near;
    };
    return (hook(1) + hook(-1)) * 1e9;
  });
});

describe("tune-out wavelengths, all listed lines", () => {
  const published: [string, number, number, string][] = [
    // element, nm, tolerance nm, source
    ["Na", 589.5565, 0.001, "Chin. Phys. B 25, 023101 (2016), calculation"],
    // two lines stand for the whole spectrum here: the published sums take in the core and higher lines
    ["Sr", 689.2, 0.015, "arXiv:1307.7264, calculation"],
    ["Ba", 788.875, 0.025, "arXiv:1307.7264, calculation"],
  ];
  for (const [element, wanted, tolerance, source] of published) {
    it(`${element}: ${wanted} nm (${source}; looked-up)`, () => {
      const zeros = tuneOuts({ element, density: 1e17, temperature: 500 });
      const nearest = zeros.reduce(
        (best, each) => Math.min(best, Math.abs(each.wavelength * 1e9 - wanted)),
        Infinity,
      );
      expect(nearest).toBeLessThan(tolerance);
    });
  }

  it("K between its D lines: 768.9712(15) nm (Holmgren et al., PRL 109, 243004 (2012); memory)", () => {
    const [zero] = zerosBetweenLines({ element: "K", density: 1e17, temperature: 450 }, 766.7e-9, 770.1e-9);
    expect(Math.abs(zero * 1e9 - 768.9712)).toBeLessThan(3e-3);
  });

  it("Rb between its D lines: 790.032388(32) nm for 87Rb (Leonard et al., PRA 92, 052501 (2015); memory)", () => {
    const [zero] = zerosBetweenLines({ element: "Rb", density: 1e17, temperature: 400 }, 780.3e-9, 794.9e-9);
    // the natural mixture against one isotope, strengths good to 6 pm, core and higher lines left out
    expect(Math.abs(zero * 1e9 - 790.0324)).toBeLessThan(0.02);
  });
});
