import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { type FlameInput, flameLayer, flameOpticalDepth, sourceThroughFlame } from "./flame.ts";

const D2 = 589.15833e-9;
const C = 299792458;
const RE = 2.8179403205e-15;

/** Sodium in a 2 cm flame; collisional width given by hand, 4 GHz. */
const flame = (columnDensity: number): FlameInput => ({
  element: "Na",
  columnDensity,
  thickness: 0.02,
  temperature: 2000,
  overrides: { gasWidth: 4e9 },
});

describe("a salted flame", () => {
  it.each([2e17, 2e18])("dims the D lines by the square-root law at %s atoms/m²", (columnDensity) => {
    // W = 2π √(r_e c f γ N L) rad/s, γ = 2π·4 GHz: equivalent width of a strong line (curve of growth, damping part)
    const wide = (f: number): number =>
      2 * Math.PI * Math.sqrt(RE * C * f * 2 * Math.PI * 4e9 * columnDensity);
    const strong = wide(0.6408) + wide(0.3201);
    const omega0 = (2 * Math.PI * C) / D2;
    const reach = 40 * strong;
    const omegas = Float64Array.from(
      { length: 20001 },
      (_, i) => omega0 + reach * ((i - 10000) / 10000) ** 3,
    );
    const depth = flameOpticalDepth(
      flameLayer(flame(columnDensity)),
      omegas.map((omega) => (2 * Math.PI * C) / omega),
    );
    let width = 0;
    for (let i = 0; i + 1 < omegas.length; i++) {
      width += 0.5 * (omegas[i + 1] - omegas[i]) * (-Math.expm1(-depth[i]) - Math.expm1(-depth[i + 1]));
    }
    // both lines lie within ±40 W; cut off there, the tail of 1/Δ² holds below 1 % of W
    expect(width / strong).toBeGreaterThan(0.98);
    expect(width / strong).toBeLessThan(1.02);
  });

  it("vanishes before a source of its own brightness temperature, at every wavelength", () => {
    const layer = flameLayer(flame(2e17));
    const wavelengths = Float64Array.from({ length: 41 }, (_, i) => D2 + (i - 20) * 2e-12);
    for (const value of sourceThroughFlame(layer, wavelengths, 2000)) expect(value).toBeCloseTo(1, 12);
  });

  it("is dark before a brighter source and bright before a dimmer one", () => {
    const layer = flameLayer(flame(2e17));
    const centre = Float64Array.of(D2);
    expect(sourceThroughFlame(layer, centre, 3000)[0]).toBeLessThan(0.5);
    expect(sourceThroughFlame(layer, centre, 1800)[0]).toBeGreaterThan(2);
    // opaque at the centre: what remains is the flame's own light, B(2000 K)/B(3000 K) by Wien's law
    const wien = Math.exp(-(0.01438776877 / D2) * (1 / 2000 - 1 / 3000));
    expect(sourceThroughFlame(layer, centre, 3000)[0] / wien).toBeCloseTo(1, 2);
  });

  it("says what it assumes", () => {
    const layer = flameLayer(flame(2e17));
    expect(layer.medium.name).toBe("flame with Na");
    expect(layer.medium.remarks).toContain("the flame gas is taken as nitrogen at the flame's temperature");
  });

  it.each([
    [{ ...flame(0) }, "flame.columnDensity: expected a number of atoms per area above 0 m-2, received 0."],
    [{ ...flame(1e17), thickness: -1 }, "flame.thickness: expected a thickness above 0 m, received -1."],
    [
      { ...flame(1e17), temperature: Number.NaN },
      "flame.temperature: expected a temperature above 0 K, received NaN.",
    ],
    [{ ...flame(1e17), element: "Xx" }, "element: expected one of"],
  ])("refuses %o", (input, sentence) => {
    expect(() => flameLayer(input)).toThrow(sentence);
    expect(() => flameLayer(input)).toThrow(Refusal);
  });

  it("refuses a source without a temperature", () => {
    expect(() => sourceThroughFlame(flameLayer(flame(1e17)), Float64Array.of(D2), 0)).toThrow(
      "sourceTemperature: expected a brightness temperature above 0 K, received 0.",
    );
  });
});
