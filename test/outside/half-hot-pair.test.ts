/**
 * A worked example by hand: caesium's second pair in a half-hot bore, from closed forms alone.
 *
 * Closed forms used (each textbook physics, evaluated here without the code under test):
 *  - density on the axis N_b/2 and N/|dN/dy| = πR/4 for a cylinder with one hot and one cold half (harmonic function
 *    1/2 − (2/π) arctan(y/R); e.g. Churchill & Brown, "Complex Variables and Applications", steady temperatures);
 *  - n − 1 = r_e f N λ0³ / (4π Δλ) near a line, both lines' wings summed with the exact Sellmeier form
 *    n − 1 = (r_e N/2π) Σ f λi² λ²/(λ² − λi²) for the zero between them;
 *  - half-gap Δν = √(r_e c N f Γ L / (2 ln 2)).
 * Strengths .01099 and .00256: from the matrix elements of arXiv:1904.06362. The gas's width, 1.2 GHz, is assumed.
 */
import { describe, expect, it } from "vitest";
import { perAtom, type VapourState, zerosBetweenLines } from "../../src/medium/index.ts";
import { linesOf } from "../../src/reference/index.ts";
import { lineGap } from "../../src/setup/index.ts";

// CODATA 2018, to the digits needed here.
const RE = 2.8179403e-15;
const C = 299792458;

const R = 0.02;
const L = 0.4;
const N_WALL = 2.647e22; // 204 Pa at 558 K over the metal: p/kT
const N = N_WALL / 2;
const SCALE_HEIGHT = (Math.PI * R) / 4;
const GRADIENT = (-N * L) / SCALE_HEIGHT;
const F1 = 0.01099;
const F2 = 0.00256;
const WIDTH = 1.2e9;
const LAMBDA1 = 455.6552e-9;
const LAMBDA2 = 459.4454e-9;

const state: VapourState = {
  element: "Cs",
  density: N,
  temperature: 493,
  gas: { species: "Ar", pressure: 5333 },
  structure: "hyperfine",
  overrides: { oscillatorStrength: { "CsI-455.66vac": F1, "CsI-459.45vac": F2 }, gasWidth: WIDTH },
};

/** Deflection of one line alone, at a distance on its blue side: every other strength is set to zero. */
function ownDeflection(centre: number, distance: number): number {
  const strengths = linesOf("Cs").map(
    (l) => [l.id, Math.abs(l.wavelength - centre) < 1e-13 ? (centre === LAMBDA1 ? F1 : F2) : 0] as const,
  );
  const alone: VapourState = {
    ...state,
    overrides: { oscillatorStrength: Object.fromEntries(strengths), gasWidth: WIDTH },
  };
  const { refractivityPerDensity: k } = perAtom(alone, Float64Array.of(centre - distance, centre + distance));
  return ((k[0] - k[1]) / 2) * GRADIENT;
}

describe("caesium's blue pair in a half-hot bore", () => {
  const cases: [string, number, number, number[]][] = [
    ["455.5", LAMBDA1, F1, [0.78e-3, 0.39e-3, 0.16e-3]],
    ["459.3", LAMBDA2, F2, [0.19e-3, 0.093e-3, 0.037e-3]],
  ];
  it.each(cases)("%s nm bends by the wing formula", (_, centre, f, rounded) => {
    [0.1e-9, 0.2e-9, 0.5e-9].forEach((distance, i) => {
      const wing = (RE * f * N * centre ** 3) / (4 * Math.PI * distance);
      const byHand = (wing * L) / SCALE_HEIGHT;
      const found = ownDeflection(centre, distance);
      expect(Math.abs(found / byHand - 1)).toBeLessThan(0.02);
      // The figures of the worked example, rounded to two digits.
      expect(Math.abs(found - rounded[i])).toBeLessThan(0.02 * found + 0.005e-3);
    });
  });

  it.each<[string, string, number, number, number]>([
    ["455.5", "CsI-455.66vac", LAMBDA1, F1, 0.143e-9],
    ["459.3", "CsI-459.45vac", LAMBDA2, F2, 0.07e-9],
  ])("%s nm is half dark out to the square-root law's distance", (_, id, wavelength, f, rounded) => {
    const line = linesOf("Cs").find((l) => l.id === id);
    expect(line?.wavelength).toBeCloseTo(wavelength, 12);
    const gap = lineGap(state, { id, wavelength }, N * L, GRADIENT);
    const byHand = (wavelength ** 2 / C) * Math.sqrt((RE * C * N * f * WIDTH * L) / (2 * Math.LN2));
    expect(Math.abs(gap.halfGap / rounded - 1)).toBeLessThan(0.02);
    expect(Math.abs(gap.halfGap / byHand - 1)).toBeLessThan(0.02);
  });

  it("has its zero between the lines at 457.11 nm vacuum, pulled there by the strong infrared pair", () => {
    const zeros = zerosBetweenLines(state, LAMBDA1, LAMBDA2);
    expect(zeros).toHaveLength(1);
    expect(Math.abs(zeros[0] - 457.11e-9)).toBeLessThan(0.02e-9);
  });

  it("bends red down and blue up at each line when the vapour is dense below", () => {
    for (const centre of [LAMBDA1, LAMBDA2]) {
      const { refractivityPerDensity: k } = perAtom(
        state,
        Float64Array.of(centre - 0.05e-9, centre + 0.05e-9),
      );
      expect(k[0] * GRADIENT).toBeGreaterThan(0); // blue side: up
      expect(k[1] * GRADIENT).toBeLessThan(0); // red side: down, toward the dense side
    }
  });
});
