import { describe, expect, it } from "vitest";
import { BOLTZMANN, ELEMENTS, linesOf } from "../reference/index.ts";
import {
  closedFormGap,
  edgeDeflectionLimit,
  equivalentWidth,
  halfGap,
  heatingRefusal,
  indexTable,
  mixtureResponse,
  modelDifference,
  peakRefractivity,
  peakSusceptibility,
  perAtom,
  saturatedDensity,
  tuneOuts,
  twoOscillatorResponse,
  vapourComponents,
  vapourIndex,
  vapourResponse,
  type VapourState,
  vapourWarnings,
  zerosBetweenLines,
} from "./index.ts";

const potassium: VapourState = { element: "K", density: 5e20, temperature: 450 };
const grid = (from: number, to: number, count: number) =>
  Float64Array.from({ length: count }, (_, k) => (from + ((to - from) * k) / (count - 1)) * 1e-9);

describe("response", () => {
  it("follows the wing form n − 1 = r_e f N λ³/(4πΔλ) near one line, positive to the red", () => {
    const strontium = { element: "Sr", density: 1e20, temperature: 880 };
    const line = linesOf("Sr")[0];
    const { refractivity } = vapourResponse(
      strontium,
      Float64Array.of(line.wavelength + 0.1e-9, line.wavelength - 0.1e-9),
    );
    const wing =
      (2.8179403e-15 * line.oscillatorStrength * 1e20 * line.wavelength ** 3) / (4 * Math.PI * 0.1e-9);
    expect(refractivity[0] / wing).toBeCloseTo(1, 2);
    expect(-refractivity[1] / wing).toBeCloseTo(1, 2);
  });

  it("has the group index that differences of its own refractivity give", () => {
    const step = 1e-15;
    for (const wavelength of [766.2e-9, 766.69e-9, 766.70095e-9, 768.9e-9, 772e-9]) {
      const three = vapourResponse(
        potassium,
        Float64Array.of(wavelength - step, wavelength, wavelength + step),
      );
      const slope = (three.refractivity[2] - three.refractivity[0]) / (2 * step);
      const wanted = 1 + three.refractivity[1] - wavelength * slope;
      expect(Math.abs(three.groupIndex[1] - wanted) / (Math.abs(wanted - 1) + 1e-3)).toBeLessThan(2e-3);
    }
  });

  it("vapourIndex gives the same without the slopes, for weak and strong vapour", () => {
    const wavelengths = grid(765, 771, 5001);
    for (const density of [1e14, 5e20, 1e24]) {
      const state = { ...potassium, density };
      const full = vapourResponse(state, wavelengths);
      const short = vapourIndex(state, wavelengths);
      wavelengths.forEach((_, k) => {
        const size = Math.abs(full.refractivity[k]) + (full.absorption[k] * wavelengths[k]) / (4 * Math.PI);
        expect(Math.abs(short.refractivity[k] - full.refractivity[k])).toBeLessThan(1e-11 * size);
        expect(Math.abs(short.absorption[k] - full.absorption[k])).toBeLessThan(
          (1e-11 * size * 4 * Math.PI) / wavelengths[k],
        );
      });
    }
  });

  it("of a mixture is the sum where χ is small, and refuses vapours that do not share the place", () => {
    const sodium = { element: "Na", density: 1e18, temperature: 450 };
    const wavelengths = grid(560, 800, 97);
    const both = mixtureResponse([potassium, sodium], wavelengths);
    const [one, other] = [vapourResponse(potassium, wavelengths), vapourResponse(sodium, wavelengths)];
    both.refractivity.forEach((value, k) => {
      expect(Math.abs(value - one.refractivity[k] - other.refractivity[k])).toBeLessThan(1e-7);
    });
    expect(() => mixtureResponse([potassium, { ...sodium, temperature: 500 }], wavelengths)).toThrow(
      /share temperature/,
    );
    expect(() => mixtureResponse([], wavelengths)).toThrow(/no vapour/);
  });
});

describe("lecture's model", () => {
  it("agrees with the full one between and beside the lines to 1 %, and not in the core", () => {
    const wing = modelDifference(potassium, grid(767.5, 769.5, 201));
    expect(wing.relative).toBeGreaterThan(0);
    const outside = modelDifference(potassium, grid(772, 776, 101));
    expect(outside.relative).toBeLessThan(0.01);
    const core = modelDifference(potassium, grid(766.69, 766.71, 401));
    expect(core.relative).toBeGreaterThan(1);
    expect(core.largest).toBeGreaterThan(1e-3);
  });

  it("with one electron each gives what the strengths say", () => {
    const wavelengths = Float64Array.of(767.3e-9);
    const published = twoOscillatorResponse(potassium, wavelengths).refractivity[0];
    const classical = twoOscillatorResponse(potassium, wavelengths, "classical").refractivity[0];
    // red of D2 (f = 0.668), blue of D1 (f = 0.333): both branches grow, by 1/0.668 and 1/0.333
    expect(classical / published).toBeGreaterThan(1 / 0.67 - 0.8);
    expect(classical).not.toBeCloseTo(published, 6);
  });
});

describe("zeros between lines", () => {
  it("are where n − 1 vanishes and falls with wavelength", () => {
    for (const zero of tuneOuts(potassium)) {
      const step = 1e-4 * zero.wavelength;
      const three = Float64Array.of(
        zero.wavelength - step / 100,
        zero.wavelength,
        zero.wavelength + step / 100,
      );
      const { refractivityPerDensity: r } = perAtom(potassium, three);
      expect(r[0]).toBeGreaterThan(0);
      expect(r[2]).toBeLessThan(0);
      expect(Math.abs(r[1])).toBeLessThan(1e-9 * Math.max(r[0], -r[2]));
    }
  });

  it("move with a strength as their sensitivity says", () => {
    const id = "KI-766.70vac";
    const [zero] = tuneOuts(potassium).filter((each) => each.between[0] === id);
    const f = linesOf("K")[0].oscillatorStrength;
    const overrides = { oscillatorStrength: { [id]: f * 1.0001 } };
    const [moved] = zerosBetweenLines({ ...potassium, overrides }, 767e-9, 770e-9);
    expect((moved - zero.wavelength) / 1e-4 / zero.sensitivity[id]).toBeCloseTo(1, 2);
    expect(zero.standardUncertainty).toBeGreaterThan(0);
  });

  it("lie within the range asked for, ends in either order", () => {
    expect(zerosBetweenLines(potassium, 771e-9, 766e-9)).toHaveLength(1);
    expect(zerosBetweenLines(potassium, 769e-9, 770e-9)).toHaveLength(0);
  });
});

describe("gap", () => {
  it("meets the square-root law where the edge lies far out in the wing, and transmits the stated share there", () => {
    const strontium = {
      element: "Sr",
      density: 4e20,
      temperature: 880,
      gas: { species: "Ar", pressure: 2000 },
    };
    const id = "SrI-460.86vac";
    const gap = halfGap(strontium, id, 1e20);
    expect(gap.halfGap / gap.closedForm).toBeCloseTo(1, 2);
    const { crossSection } = perAtom(strontium, Float64Array.of(gap.blueEdge, gap.redEdge));
    expect(Math.exp(-1e20 * crossSection[0])).toBeCloseTo(0.5, 6);
    expect(Math.exp(-1e20 * crossSection[1])).toBeCloseTo(0.5, 6);
    expect(closedFormGap(strontium, id, 4e20) / closedFormGap(strontium, id, 1e20)).toBeCloseTo(2, 12);
  });

  it("is 0 where the line is not dark even at its centre", () => {
    expect(halfGap(potassium, "KI-766.70vac", 1e12).halfGap).toBe(0);
  });

  it("refuses another element's line, a negative column and a share outside 0 to 1", () => {
    expect(() => halfGap(potassium, "NaI-589.16vac", 1e20)).toThrow(/a line of K/);
    expect(() => halfGap(potassium, "KI-766.70vac", -1)).toThrow(/columnDensity/);
    expect(() => halfGap(potassium, "KI-766.70vac", 1e20, 1)).toThrow(/between 0 and 1/);
  });

  it("equivalent width meets its three closed forms each on its own part", () => {
    const thin = equivalentWidth(potassium, "KI-404.53vac", 1e15);
    expect(thin.width / thin.linear).toBeCloseTo(1, 2);
    const strontium = { element: "Sr", density: 1e14, temperature: 880 };
    const flat = equivalentWidth(strontium, "SrI-460.86vac", 1e16);
    expect(flat.width / flat.flat).toBeGreaterThan(1);
    expect(flat.width / flat.flat).toBeLessThan(1.3);
    const thick = equivalentWidth({ ...strontium, density: 4e20 }, "SrI-460.86vac", 1e22);
    expect(thick.width / thick.squareRoot).toBeCloseTo(1, 2);
    expect(() => equivalentWidth(potassium, "NaI-589.16vac", 1)).toThrow(/a line of K/);
  });
});

describe("self-broadened line", () => {
  it("peaks at 0.244, 0.339 and 0.409 whatever the density", () => {
    expect(peakRefractivity(2, 2)).toBeCloseTo(0.244, 3);
    expect(peakRefractivity(4, 2)).toBeCloseTo(0.339, 3);
    expect(peakRefractivity(3, 1)).toBeCloseTo(0.409, 3);
    expect(peakSusceptibility(3, 1) / 2).toBeCloseTo(0.43, 2);
  });

  it("is what the full model tends to when dense and cold", () => {
    const others = linesOf("Sr").slice(1);
    const oscillatorStrength = Object.fromEntries(others.map((line) => [line.id, 0]));
    const dense: VapourState = {
      element: "Sr",
      density: 1e25,
      temperature: 1,
      structure: "merged",
      overrides: { oscillatorStrength },
    };
    const { refractivity } = vapourResponse(dense, grid(440, 490, 20001));
    expect(Math.max(...refractivity) / peakRefractivity(3, 1)).toBeCloseTo(1, 1);
  });

  it("edge deflection: 4.7 mrad at half transmission for Sr, 0.25 m, scale height 15.7 mm", () => {
    expect(edgeDeflectionLimit(0.5, 3, 1, 460.86e-9, 0.25, 15.7e-3) * 1e3).toBeCloseTo(4.7, 1);
    expect(() => edgeDeflectionLimit(1, 3, 1, 460e-9, 0.25, 0.01)).toThrow(/between 0 and 1/);
    expect(() => peakSusceptibility(0, 1)).toThrow(/gUpper/);
  });
});

describe("warnings", () => {
  const codes = (state: VapourState, reach?: number) => vapourWarnings(state, reach).map((each) => each.code);

  it("come when their cause is there, and not before", () => {
    const thin = { element: "Na", density: 1e15, temperature: 450, overrides: { gasWidth: 0 } };
    expect(codes(thin)).toEqual(["lower-bound-decay"]);
    const dense = { element: "Cs", density: 1e23, temperature: 650 };
    expect(codes(dense)).toEqual(
      expect.arrayContaining(["dimers-likely", "local-field", "self-broadening-above-doppler"]),
    );
    expect(codes(thin, 1e-9)).toContain("impact-limit");
    expect(codes(thin, 1e-10)).not.toContain("impact-limit");
  });

  it("name every estimate and every value from memory", () => {
    const state = { element: "K", density: 1e18, temperature: 450, gas: { species: "Ar", pressure: 1000 } };
    expect(codes(state)).toContain("estimated-broadening");
    expect(codes({ ...state, element: "Rb" })).toContain("memory-value");
    expect(codes({ ...state, element: "Ba" })).toContain("no-isotope-structure");
    expect(codes({ ...state, element: "Ba", structure: "merged" })).not.toContain("no-isotope-structure");
  });

  it("three metals are not to be heated, the others may", () => {
    expect(ELEMENTS.filter((element) => heatingRefusal(element) !== undefined)).toEqual(["Tl", "Hg", "Cd"]);
  });
});

describe("index table", () => {
  const wavelengths = grid(765, 768, 61);

  it("holds what the response holds, and its components", () => {
    const table = indexTable({ element: "K", density: 5e20, temperature: 450, wavelengths });
    const response = vapourResponse(potassium, wavelengths);
    expect(table.refractivity).toEqual(response.refractivity);
    expect(table.groupIndex).toEqual(response.groupIndex);
    expect(table.components).toEqual(vapourComponents(potassium));
    expect(table.saturation).toBeUndefined();
  });

  it("takes the density from the saturation pressure, the temperature defaulting to the metal's", () => {
    const table = indexTable({ element: "K", saturatedAt: 560, wavelengths });
    expect(table.temperature).toBe(560);
    expect(table.density).toBe(saturatedDensity("K", 560));
    const hotter = indexTable({ element: "K", saturatedAt: 560, temperature: 700, wavelengths });
    expect(hotter.density).toBeCloseTo(table.saturation!.pressure / (BOLTZMANN * 700), -12);
    const beyond = indexTable({ element: "K", saturatedAt: 700, wavelengths });
    expect(beyond.warnings.map((each) => each.code)).toContain("pressure-extrapolated");
  });

  it("adds the named gas's own refractivity: argon 2.64e-4 at 101325 Pa and 288 K about 770 nm", () => {
    const gas = { species: "Ar", pressure: 101325 };
    const bare = { element: "K", density: 1, temperature: 288.15, wavelengths: Float64Array.of(765e-9) };
    const table = indexTable({ ...bare, gas });
    // Peck & Fisher 1964: n − 1 of argon at 15 °C; 2.670e-4 at 589 nm, less in the red
    expect(table.refractivity[0]).toBeGreaterThan(2.62e-4);
    expect(table.refractivity[0]).toBeLessThan(2.67e-4);
    expect(table.groupIndex[0] - 1).toBeGreaterThan(table.refractivity[0]);
    const xenon = indexTable({ ...bare, gas: { ...gas, species: "Xe" } });
    expect(xenon.warnings.map((each) => each.code)).toContain("gas-refractivity-left-out");
  });

  it("answers for mercury, which no setup may heat", () => {
    const table = indexTable({
      element: "Hg",
      density: 1e20,
      temperature: 350,
      wavelengths: grid(253, 254, 11),
    });
    expect(table.refractivity.every(Number.isFinite)).toBe(true);
  });

  it("refuses two densities, none, and no temperature", () => {
    expect(() => indexTable({ element: "K", wavelengths })).toThrow(
      /exactly one of density and saturated-at/,
    );
    expect(() => indexTable({ element: "K", density: 1e20, saturatedAt: 500, wavelengths })).toThrow(
      /both density/,
    );
    expect(() => indexTable({ element: "K", density: 1e20, wavelengths })).toThrow(/temperature of the gas/);
  });
});
