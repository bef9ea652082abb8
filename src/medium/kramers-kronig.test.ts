import { describe, expect, it } from "vitest";
import { extinctionOf, kramersKronig, outsideBound } from "./kramers-kronig.ts";
import { faddeeva } from "../numerics/faddeeva.ts";

/** n − 1 and κ of one Lorentz oscillator in the limit of small χ; a textbook closed form, independent of the transform. */
function lorentz(
  omega: number,
  own: number,
  gamma: number,
  amplitude: number,
): readonly [re: number, im: number] {
  const re = own ** 2 - omega ** 2;
  const im = gamma * omega;
  const norm = amplitude / (2 * (re ** 2 + im ** 2));
  return [re * norm, im * norm];
}

describe("kramersKronig", () => {
  it("gives a Lorentz oscillator's index from its absorption, better the finer the table", () => {
    const own = 3e15;
    const gamma = 2e13;
    const at = Float64Array.from([2.2e15, 2.9e15, 2.99e15, 3e15, 3.004e15, 3.3e15, 4.5e15]);
    const error = (steps: number): number => {
      // points crowd about the line: ω = ω₀ + (γ/2)·sinh(s), clipped at small ω
      const reach = Math.asinh((2 * (own - 1e10)) / gamma);
      const far = Math.asinh((2 * 200 * own) / gamma);
      const omegas = Float64Array.from({ length: steps + 1 }, (_, i) => {
        const s = -reach + ((reach + far) * i) / steps;
        return own + (gamma / 2) * Math.sinh(s);
      });
      const kappas = omegas.map((omega) => lorentz(omega, own, gamma, 1e27)[1]);
      const got = kramersKronig({ omegas, kappas }, at);
      return Math.max(...got.map((value, i) => Math.abs(value - lorentz(at[i], own, gamma, 1e27)[0])));
    };
    const peak = 1e27 / (4 * own * gamma);
    expect(error(4000) / peak).toBeLessThan(6e-6);
    expect(error(1000) / error(2000)).toBeGreaterThan(3.7);
  });

  it("gives a Gaussian band the Dawson curve", () => {
    // Δn = (2/√π) κ₀ F(x) for a band narrow against its frequency; F by Im w(x)·√π/2
    const own = 3.5e15;
    const width = 2e13;
    const omegas = Float64Array.from({ length: 4001 }, (_, i) => own + width * (i / 200 - 10));
    const kappas = omegas.map((omega) => Math.exp(-(((omega - own) / width) ** 2)));
    const x = 0.924138873;
    const [below, above] = kramersKronig(
      { omegas, kappas },
      Float64Array.of(own - x * width, own + x * width),
    );
    const w = new Float64Array(2);
    faddeeva(x, 0, w);
    const dawson = (Math.sqrt(Math.PI) / 2) * w[1];
    expect(dawson).toBeCloseTo(0.5410442246, 9);
    // the counter-rotating part moves both by about width/own
    expect((below - above) / 2).toBeCloseTo((2 / Math.sqrt(Math.PI)) * dawson, 4);
  });

  it("meets no singularity at the points of the table", () => {
    const omegas = Float64Array.from([1, 2, 3, 4, 5]);
    const kappas = Float64Array.from([0, 0.2, 1, 0.3, 0]);
    const [on, beside] = kramersKronig({ omegas, kappas }, Float64Array.of(3, 3 + 1e-9));
    expect(Math.abs(on - beside)).toBeLessThan(1e-7);
  });

  it("wants arrays of one length", () => {
    expect(() =>
      kramersKronig({ omegas: Float64Array.of(1), kappas: Float64Array.of(1) }, Float64Array.of(1)),
    ).toThrow("at least 2 points");
  });
});

describe("extinctionOf", () => {
  it("turns wavelengths into ascending frequencies and keeps the tabulated values", () => {
    const { omegas, kappas } = extinctionOf(
      Float64Array.of(400e-9, 500e-9, 600e-9),
      Float64Array.of(0.1, 0.4, 0.2),
      4,
    );
    expect(omegas).toHaveLength(9);
    expect([...omegas].sort((a, b) => a - b)).toEqual([...omegas]);
    expect(kappas[0]).toBeCloseTo(0.2, 14);
    expect(kappas[4]).toBeCloseTo(0.4, 14);
    expect(kappas[8]).toBeCloseTo(0.1, 14);
  });
});

describe("outsideBound", () => {
  it("bounds what absorption beyond the table does to the index", () => {
    // flat absorption coefficient α from ω₂ to 3ω₂, nothing below: its index by the transform itself
    const last = 4e15;
    const first = 2e15;
    const alpha = 1e5;
    const outer = Float64Array.from({ length: 20001 }, (_, i) => last * (1 + (2 * i) / 20000));
    const kappas = outer.map((omega) => (alpha * 299792458) / (2 * omega));
    const table = { omegas: Float64Array.of(first, last), kappas: Float64Array.of(0, 0) };
    for (const omega of [2.2e15, 3e15, 3.8e15]) {
      const moved = kramersKronig({ omegas: outer, kappas }, Float64Array.of(omega, 2.5e15));
      expect(Math.abs(moved[0])).toBeLessThan(outsideBound(table, alpha, omega, undefined));
      expect(Math.abs(moved[0] - moved[1])).toBeLessThanOrEqual(outsideBound(table, alpha, omega, 2.5e15));
    }
    expect(outsideBound(table, alpha, 2.5e15, 2.5e15)).toBe(0);
  });
});
