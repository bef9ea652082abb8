import { describe, expect, it } from "vitest";
import { ELEMENTS, linesOf, SPEED_OF_LIGHT } from "../reference/index.ts";
import {
  lineComponents,
  lowerPopulation,
  perAtom,
  vapourComponents,
  vapourResponse,
  type VapourState,
} from "./index.ts";

const potassium: VapourState = { element: "K", density: 5e20, temperature: 450 };
const grid = (from: number, to: number, count: number) =>
  Float64Array.from({ length: count }, (_, k) => (from + ((to - from) * k) / (count - 1)) * 1e-9);

describe("components", () => {
  it("weights of every line of every element sum to 1 within 1e-12, in both structures", () => {
    for (const element of ELEMENTS) {
      for (const structure of ["hyperfine", "merged"] as const) {
        const components = vapourComponents({ element, density: 1e18, temperature: 600, structure });
        for (const line of linesOf(element)) {
          const sum = components
            .filter((each) => each.line === line.id)
            .reduce((total, each) => total + each.weight, 0);
          expect(Math.abs(sum - 1), `${line.id} ${structure}`).toBeLessThan(1e-12);
        }
      }
    }
  });

  it("keep the line's centre of gravity when split", () => {
    for (const line of linesOf("Rb")) {
      const mean = (structure: "hyperfine" | "merged") =>
        lineComponents(line, { element: "Rb", density: 1e18, temperature: 400, structure }).reduce(
          (sum, each) => sum + (each.weight * SPEED_OF_LIGHT) / each.wavelength,
          0,
        );
      expect(Math.abs(mean("hyperfine") - mean("merged"))).toBeLessThan(1e3); // Hz
    }
  });

  it("become the undivided line as the Doppler width grows", () => {
    const difference = (temperature: number) => {
      const wavelengths = grid(852.33, 852.36, 301);
      const at = (structure: "hyperfine" | "merged") =>
        perAtom({ element: "Cs", density: 1e15, temperature, structure }, wavelengths).crossSection;
      const [split, whole] = [at("hyperfine"), at("merged")];
      const peak = Math.max(...whole);
      return Math.max(...split.map((value, k) => Math.abs(value - whole[k]))) / peak;
    };
    // at 300 K the two ground levels stand apart; then the difference falls as (splitting/Doppler width)², like 1/T
    expect(difference(300)).toBeGreaterThan(0.5);
    expect(difference(3e7)).toBeLessThan(5e-3);
    expect(difference(3e8) / difference(3e7)).toBeCloseTo(0.1, 1);
  });

  it("take a stated mixture of isotopes, scaled to 1, and refuse one that is not of the element", () => {
    const only = { ...potassium, overrides: { abundance: { "41K": 0.5 } } };
    const components = vapourComponents(only).filter((each) => each.line === "KI-770.11vac");
    expect(components.every((each) => each.isotope === "41K")).toBe(true);
    expect(components.reduce((sum, each) => sum + each.weight, 0)).toBeCloseTo(1, 12);
    const abundance = { "85Rb": 1 };
    expect(() => vapourComponents({ ...potassium, overrides: { abundance } })).toThrow(
      /an isotope of K: 39K, 40K, 41K/,
    );
    expect(() => vapourComponents({ ...potassium, overrides: { abundance: { "39K": 0 } } })).toThrow(
      /above 0/,
    );
    expect(() => vapourComponents({ ...potassium, overrides: { abundance: { "39K": -1 } } })).toThrow(
      /0 or more/,
    );
  });

  it("fill thallium's metastable level by Boltzmann's law", () => {
    const [ground, metastable] = linesOf("Tl");
    // 7792.58 cm⁻¹ above ground, multiplicity 4 against 2 (data/lines.json, Morton 2000)
    const ratio = 2 * Math.exp((-7792.58 * 1.438776877) / 1000);
    expect(lowerPopulation(metastable, 1000) / lowerPopulation(ground, 1000)).toBeCloseTo(ratio, 9);
    expect(lowerPopulation(metastable, 1000) + lowerPopulation(ground, 1000)).toBeCloseTo(1, 14);
  });

  it("take strengths and gas width by hand", () => {
    const overrides = { oscillatorStrength: { "KI-766.70vac": 0.5 }, gasWidth: 1e9 };
    const own = vapourComponents({ ...potassium, overrides }).find((each) => each.line === "KI-766.70vac")!;
    const plain = vapourComponents(potassium).find((each) => each.line === "KI-766.70vac")!;
    expect(own.oscillatorStrength).toBe(0.5);
    expect(own.lorentzWidth - plain.lorentzWidth).toBeCloseTo(2 * Math.PI * 1e9, -3);
  });

  it("refuse what cannot be", () => {
    const refused: [Partial<VapourState>, RegExp][] = [
      [{ element: "Xx" }, /element: expected one of/],
      [{ element: "na" }, /write "Na"/],
      [{ density: 0 }, /density: expected a number above 0 m⁻³/],
      [{ density: Number.NaN }, /density/],
      [{ temperature: -3 }, /temperature: expected a number above 0 K/],
      [{ gas: { species: "Ar", pressure: -1 } }, /gas.pressure/],
      [{ gas: { species: "CO2", pressure: 1 } }, /gas: expected one of He, Ne, Ar, Kr, Xe, N2/],
      [{ overrides: { oscillatorStrength: { nothing: 1 } } }, /a line id such as/],
      [{ overrides: { oscillatorStrength: { "KI-766.70vac": -1 } } }, /0 or more/],
      [{ overrides: { gasWidth: -1 } }, /gasWidth/],
    ];
    for (const [part, sentence] of refused)
      expect(() => vapourComponents({ ...potassium, ...part })).toThrow(sentence);
    expect(() => vapourResponse(potassium, Float64Array.of(0))).toThrow(
      /wavelength: expected a number above 0 m/,
    );
    expect(() => perAtom(potassium, Float64Array.of(Number.NaN))).toThrow(/wavelength/);
  });
});
