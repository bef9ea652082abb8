import { describe, expect, it } from "vitest";
import { BOLTZMANN } from "../reference/index.ts";
import { airRefractivity } from "./air.ts";
import { airMedium, gasMedium, glassMedium } from "./formula-media.ts";
import { glassIndex } from "./glass.ts";

describe("media known by a formula", () => {
  it("give the formula's index and no absorption", () => {
    const at = Float64Array.of(450e-9, 589e-9, 900e-9);
    const glass = glassMedium("620364").indexAt(at);
    expect(glass.refractivity[1] + 1).toBeCloseTo(glassIndex("620364", 589e-9), 15);
    expect(glass.absorption).toEqual(new Float64Array(3));
    const state = { temperature: 300, pressure: 9e4, humidity: 0.3 };
    expect(airMedium(state).indexAt(at).refractivity[2]).toBe(airRefractivity(900e-9, state));
  });

  it("take fused silica by name", () => {
    const silica = glassMedium("fused-silica");
    expect(silica.name).toBe("fused silica");
    expect(silica.remarks).toEqual(["taken as perfectly clear: its own absorption is left out"]);
    // Malitson 1965: 1.45846 at the d line against air
    expect(silica.indexAt(Float64Array.of(587.725e-9)).refractivity[0]).toBeCloseTo(
      0.45846 + 1.45846 * 2.72e-4,
      5,
    );
  });

  it("have a group index above the phase index in normal dispersion, by the derivative", () => {
    const glass = glassMedium("517642");
    const wavelength = 589.3e-9;
    // closed-form derivative of the Sellmeier formula of glass 517642 (coefficients as in the catalogue), against air
    const b = [1.03961212, 0.231792344, 1.01046945];
    const c = [0.00600069867, 0.0200179144, 103.560653];
    const l = wavelength * 1e6;
    const n = Math.sqrt(1 + b.reduce((sum, bi, i) => sum + (bi * l * l) / (l * l - c[i]), 0));
    const slope = -b.reduce((sum, bi, i) => sum + (bi * c[i] * l) / (l * l - c[i]) ** 2, 0) / n;
    const { groupIndex } = glass.indexAt(Float64Array.of(wavelength));
    // against vacuum the group index gains n_rel·(n_g,air − 1) ≈ 4e-4
    expect(Math.abs(groupIndex[0] - (n - l * slope))).toBeLessThan(6e-4);
    expect(groupIndex[0] - (n - l * slope)).toBeGreaterThan(2e-4);
  });

  it("count a buffer gas by its density", () => {
    const density = 101325 / (BOLTZMANN * 288.15);
    // argon, 15 °C, 101325 Pa: Peck & Fisher 1964
    expect(gasMedium("Ar", density).indexAt(Float64Array.of(589.46e-9)).refractivity[0]).toBeCloseTo(
      2.6703e-4,
      8,
    );
    expect(() => gasMedium("Xe", density)).toThrow("gas: expected one of");
  });

  it("refuse wavelengths outside", () => {
    expect(() => glassMedium("785258").indexAt(Float64Array.of(390e-9))).toThrow("for glass 785258");
    expect(() => airMedium({ temperature: 293, pressure: 1e5 }).indexAt(Float64Array.of(5e-6))).toThrow(
      "for air",
    );
    expect(() => airMedium({ temperature: 293, pressure: 1e5 }).indexAt(Float64Array.of(Number.NaN))).toThrow(
      "received NaN",
    );
  });
});
