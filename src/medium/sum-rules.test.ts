import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { glassMedium } from "./formula-media.ts";
import { oscillatorMedium } from "./oscillators.ts";
import { classicalComparison, kramersKronigResidual, linePairs, strengthSum } from "./sum-rules.ts";
import { vapourMedium } from "./vapour-medium.ts";
import { waterTableMedium } from "./water.ts";

const C = 299792458;

/** Wavelengths crowded about some lines: λ₀ + w·sinh(s), out to ±reach. */
function grid(lines: readonly number[], width: number, reach: number, each: number): Float64Array {
  const top = Math.asinh(reach / width);
  const all = lines.flatMap((line) =>
    Array.from({ length: each }, (_, i) => line + width * Math.sinh(top * ((2 * i) / (each - 1) - 1))),
  );
  return Float64Array.from([...new Set(all)].sort((a, b) => a - b));
}

describe("Kramers–Kronig residual", () => {
  it("is small for free oscillators", () => {
    const gamma = 2 * Math.PI * 5e9;
    const medium = oscillatorMedium({
      oscillators: [{ wavelength: 589e-9, strength: 0.6, width: gamma }],
      density: 1e20,
    });
    const width = (589e-9 ** 2 * gamma) / (4 * Math.PI * C);
    const { relative } = kramersKronigResidual(medium, grid([589e-9], width / 4, 20e-9, 4001));
    expect(relative).toBeLessThan(2e-4);
  });

  it("is small for any list of free oscillators", () => {
    const oscillator = fc.record({
      wavelength: fc.double({ min: 580e-9, max: 600e-9, noNaN: true }),
      strength: fc.double({ min: 0.01, max: 2, noNaN: true }),
      width: fc.double({ min: 1e11, max: 1e12, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(oscillator, { minLength: 1, maxLength: 3 }), (oscillators) => {
        const medium = oscillatorMedium({ oscillators, density: 1e22 });
        const lines = oscillators.map((each) => each.wavelength);
        const { relative } = kramersKronigResidual(medium, grid(lines, 5e-12, 60e-9, 801));
        expect(relative).toBeLessThan(3e-3);
      }),
      { numRuns: 20 },
    );
  });

  it("is small for the vapour of every element with a line pair in view", () => {
    for (const [element, lines, temperature] of [
      ["K", [766.70089e-9, 770.10835e-9], 500],
      ["Na", [589.15833e-9, 589.75581e-9], 500],
      ["Cs", [455.6552e-9, 459.4454e-9], 560],
    ] as const) {
      const medium = vapourMedium({ element, density: 1e20, temperature });
      const { relative } = kramersKronigResidual(medium, grid(lines, 0.2e-12, 10e-9, 2401));
      expect(relative, element).toBeLessThan(2e-3);
    }
  });

  it("finds a medium whose index and absorption do not belong together", () => {
    const right = oscillatorMedium({
      oscillators: [{ wavelength: 589e-9, strength: 0.6, width: 3e10 }],
      density: 1e20,
    });
    const wrong = {
      ...right,
      indexAt(wavelengths: Float64Array) {
        const response = right.indexAt(wavelengths);
        return { ...response, refractivity: response.refractivity.map((r) => 1.1 * r) };
      },
    };
    expect(kramersKronigResidual(wrong, grid([589e-9], 1e-12, 20e-9, 4001)).relative).toBeGreaterThan(0.09);
  });

  it("of tabulated water stays within a hundredth of its index in the infrared", () => {
    const wavelengths = Float64Array.from({ length: 1200 }, (_, i) => 0.21e-6 * (190 / 0.21) ** (i / 1199));
    const { residual, constant } = kramersKronigResidual(waterTableMedium(), wavelengths);
    const middle = residual.filter((_, i) => wavelengths[i] > 2.5e-6 && wavelengths[i] < 10e-6);
    expect(Math.max(...middle.map(Math.abs))).toBeLessThan(0.02);
    expect(constant).toBeGreaterThan(0.3);
  });

  it("refuses a clear medium and a grid that is none", () => {
    const clear = glassMedium("517642");
    const wavelengths = Float64Array.from({ length: 30 }, (_, i) => 400e-9 + i * 1e-9);
    expect(() => kramersKronigResidual(clear, wavelengths)).toThrow(
      "received glass 517642 without absorption",
    );
    expect(() => kramersKronigResidual(clear, wavelengths.toReversed())).toThrow("strictly ascending");
    expect(() => kramersKronigResidual(clear, wavelengths.slice(0, 5))).toThrow("at least 20 wavelengths");
  });
});

describe("strengths", () => {
  it("pairs the lines of one term, shorter wavelength first", () => {
    const pairs = linePairs("Cs");
    expect(pairs.map((pair) => [pair.shorter.id, pair.longer.id])).toEqual([
      ["CsI-852.35vac", "CsI-894.59vac"],
      ["CsI-455.66vac", "CsI-459.45vac"],
    ]);
    expect(pairs[0].ratio).toBeCloseTo(0.715 / 0.345, 10);
    expect(pairs[1].ratio).toBeCloseTo(4.298, 3);
    expect(pairs[1].ratioUncertainty).toBeCloseTo(0.0163, 3);
    // weights 4:2, wavelengths nearly alike
    expect(pairs[0].expected).toBeCloseTo(2 * (894.59284 / 852.34722), 10);
    expect(linePairs("Na")[1].ratioUncertainty).toBeUndefined();
    expect(linePairs("Sr")).toEqual([]);
  });

  it("sums to a little less than the number of valence electrons", () => {
    for (const alkali of ["Li", "Na", "K", "Rb", "Cs"]) {
      expect(strengthSum(alkali), alkali).toBeGreaterThan(0.7);
      expect(strengthSum(alkali), alkali).toBeLessThan(1.1);
    }
    for (const earth of ["Mg", "Ca", "Sr", "Ba"]) {
      expect(strengthSum(earth), earth).toBeGreaterThan(1.6);
      expect(strengthSum(earth), earth).toBeLessThan(2);
    }
    // the line from the metastable level is not one from the ground state
    expect(strengthSum("Tl")).toBe(0.134);
  });

  it("sets the classical electron beside the published strengths", () => {
    const { published, classical, classicalWavelength } = classicalComparison("Sr", 1e20, 500e-9);
    expect(classicalWavelength).toBeCloseTo(460.8617e-9, 15);
    // two electrons share 1.83 of strength in one line: the classical single electron gives a little more than half
    expect(classical / published).toBeCloseTo(1 / 1.83, 2);
    const sodium = classicalComparison("Na", 1e20, 700e-9);
    expect(sodium.classical / sodium.published).toBeCloseTo(1 / sodium.strengthSum, 1);
    expect(sodium.classicalWavelength).toBeGreaterThan(589.158e-9);
    expect(sodium.classicalWavelength).toBeLessThan(589.756e-9);
    expect(() => classicalComparison("Sr", 1e20, 460.8617e-9)).toThrow("a wavelength away from every line");
  });
});
