import { describe, expect, it } from "vitest";
import { glassCodes } from "../reference/index.ts";
import { airRefractivity } from "./air.ts";
import { gasRefractivityPerDensity, hasGasRefractivity } from "./buffer-gas.ts";
import { FUSED_SILICA, glassIndex, glassIndexInAir, glassIndexOf, glassRange } from "./glass.ts";

describe("glass", () => {
  it("is denser against vacuum than against air, by the index of air", () => {
    const vacuum = 589.756e-9;
    const air = 1 + airRefractivity(vacuum, { temperature: 293.15, pressure: 101325 });
    expect(glassIndex("785258", vacuum) / glassIndexInAir("785258", vacuum / air)).toBeCloseTo(air, 12);
  });

  it("falls towards the red for every stored glass", () => {
    for (const code of [...glassCodes(), FUSED_SILICA]) {
      const { wavelengthMin, wavelengthMax } = glassRange(code);
      const index = glassIndexOf(code);
      let last = Infinity;
      for (let i = 0; i <= 50; i++) {
        const value = index(wavelengthMin + ((wavelengthMax - wavelengthMin) * i) / 50);
        expect(value, code).toBeLessThan(last);
        expect(value, code).toBeGreaterThan(1.3);
        last = value;
      }
    }
  });

  it("refuses what the catalogue does not give", () => {
    expect(() => glassIndex("785258", 380e-9)).toThrow(
      "glass.wavelength: expected a wavelength between 390\u202fnm and 2500\u202fnm, where glass 785258 is tabulated, received 380\u202fnm.",
    );
    expect(() => glassIndex("123456", 500e-9)).toThrow("glass: expected a six-digit glass code, one of");
    expect(() => glassIndexOf("nonsense", "path.crown")).toThrow("path.crown: expected");
  });
});

describe("buffer gases", () => {
  it("bend light in the order of their electrons' softness: He, Ne, N2, Ar", () => {
    const at = (gas: string): number => gasRefractivityPerDensity(gas, 589e-9);
    expect(at("He")).toBeLessThan(at("Ne"));
    expect(at("Ne")).toBeLessThan(at("Ar"));
    // nitrogen 29.8e-5 against argon 28.1e-5 at 0 °C
    expect(at("N2") / at("Ar")).toBeCloseTo(29.8 / 28.1, 2);
  });

  it("refuses gases without a stored formula and wavelengths without meaning", () => {
    expect(hasGasRefractivity("Xe")).toBe(false);
    expect(() => gasRefractivityPerDensity("Xe", 589e-9)).toThrow(
      'gas: expected one of Ar, N2, He, Ne, whose refractivity is stored, received "Xe".',
    );
    expect(() => gasRefractivityPerDensity("Ar", 50e-9)).toThrow("between 200 nm and 4000 nm");
  });
});
