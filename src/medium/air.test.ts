import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { airDensity, airRefractivity, airRefractivityOf, airToVacuum, vacuumToAir } from "./air.ts";

const ROOM = { temperature: 293.15, pressure: 101325 };

describe("airRefractivity", () => {
  it("grows with the number of molecules", () => {
    const at = (pressure: number): number => airRefractivity(633e-9, { temperature: 293.15, pressure });
    expect(at(0)).toBe(0);
    // nearly proportional: air is not quite ideal
    expect(at(100000) / at(50000)).toBeCloseTo(2, 3);
    expect(at(100000) / at(50000)).toBeGreaterThan(2);
  });

  it("falls when water takes the place of air", () => {
    expect(airRefractivity(633e-9, { ...ROOM, humidity: 0.5 })).toBeLessThan(airRefractivity(633e-9, ROOM));
  });

  it("rises with carbon dioxide by 0.534 millionths of itself per ppm", () => {
    const more = airRefractivity(633e-9, { ...ROOM, co2: 550e-6 });
    expect(more / airRefractivity(633e-9, ROOM) - 1).toBeCloseTo(0.534e-4, 9);
  });

  it("gives the same whether the state is worked out once or each time", () => {
    expect(airRefractivityOf(ROOM)(500e-9)).toBe(airRefractivity(500e-9, ROOM));
  });

  it.each([
    [
      100e-9,
      ROOM,
      "air.wavelength: expected a wavelength between 200 nm and 4000 nm in air, received 100\u202fnm.",
    ],
    [500e-9, { temperature: 0, pressure: 1e5 }, "air.temperature: expected 0 K to 2000 K, received 0 K."],
    [500e-9, { temperature: 293, pressure: -1 }, "air.pressure: expected 0 Pa to 1 MPa, received -1 Pa."],
    [500e-9, { ...ROOM, humidity: 1.5 }, "air.humidity: expected a share from 0 to 1, received 1.5."],
    [500e-9, { ...ROOM, co2: 1 }, "air.co2: expected a mole fraction from 0 to 0.1, received 1."],
    [
      500e-9,
      { temperature: 373.15, pressure: 1000, humidity: 1 },
      "air.humidity: expected less water vapour than the pressure allows, received 1.",
    ],
  ])("refuses %s %o", (wavelength, state, sentence) => {
    expect(() => airRefractivity(wavelength, state)).toThrow(sentence);
    expect(() => airRefractivity(wavelength, state)).toThrow(Refusal);
  });

  it("weighs air near 1.2 kg/m³, damp air less", () => {
    // ISO 2533 standard atmosphere: 1.225 kg/m³ at 15 °C, 101325 Pa, dry
    expect(airDensity({ temperature: 288.15, pressure: 101325 })).toBeCloseTo(1.225, 2);
    expect(airDensity({ ...ROOM, humidity: 1 })).toBeLessThan(airDensity(ROOM));
    expect(airDensity({ temperature: 300, pressure: 0 })).toBe(0);
  });
});

describe("air and vacuum wavelengths", () => {
  it("are each other's inverse to rounding", () => {
    fc.assert(
      fc.property(fc.double({ min: 200.2e-9, max: 3.99e-6, noNaN: true }), (wavelength) => {
        // one division and one product, each rounded
        expect(Math.abs(airToVacuum(vacuumToAir(wavelength)) / wavelength - 1)).toBeLessThan(1e-15);
      }),
      // the worst case found: the steepest end, where three rounds fall short
      { examples: [[2.0039127188955484e-7]] },
    );
  });

  it("has no air wavelength below 200 nm", () => {
    expect(() => vacuumToAir(184.95e-9)).toThrow("between 200 nm and 4000 nm");
    expect(() => airToVacuum(Number.NaN)).toThrow(Refusal);
  });
});
