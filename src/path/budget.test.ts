import { describe, expect, it } from "vitest";
import { exposureAdvice, lightBudget } from "./light-budget.ts";
import { sharpness, slitsFor } from "./sharpness.ts";
import { spectralMap } from "./spectral-map.ts";
import { plainBench } from "./testing/plain-bench.ts";

const path = plainBench({
  source: { kind: "carbon-arc" },
  centreWavelength: 460e-9,
});
const map = spectralMap(path);
const pixel = 4e-6;

describe("lightBudget", () => {
  it("is radiance × band × solid angle × area × losses, counted in photons", () => {
    const budget = lightBudget({ path, map, pixel, quantumEfficiency: 0.5 }, 460e-9);
    // Black body of 3800 K at 460 nm, band 20 µm × 5e-6 = 0.1 nm, (20/300)² sr, 16 µm²; written out with rounded constants.
    const radiance =
      (2 * 6.62607e-34 * 2.997925e8 ** 2) / 460e-9 ** 5 / (Math.exp(1.438777e-2 / (460e-9 * 3800)) - 1);
    const photons = (radiance * 1e-10 * (0.02 / 0.3) ** 2 * 16e-12 * 460e-9) / (6.62607e-34 * 2.997925e8);
    // Ten faces of 0.957, and nothing else in the way.
    expect(budget.photonRate / photons / 0.957 ** 10).toBeCloseTo(1, 4);
    expect(budget.electronRate / budget.photonRate).toBeCloseTo(0.5, 12);
  });

  it("keeps étendue: a longer camera lens spreads the same photons over more pixels", () => {
    const long = {
      ...path,
      cameraFocalLength: 0.6,
      disperser: { kind: "linear", wavelengthPerLength: 2.5e-6 } as const,
    };
    const one = lightBudget({ path, map, pixel, quantumEfficiency: 1 }, 460e-9);
    const two = lightBudget({ path: long, map: spectralMap(long), pixel, quantumEfficiency: 1 }, 460e-9);
    expect(two.photonRate / one.photonRate).toBeCloseTo(0.25, 9);
    expect(two.etendue).toBeCloseTo(one.etendue, 24);
  });

  it("advises the exposure that fills the well, with its noise", () => {
    const advice = exposureAdvice(1e5, 20000, 3, 0.5);
    expect(advice.exposure).toBeCloseTo(0.1, 12);
    expect(advice.signalToNoise).toBeCloseTo(10000 / Math.sqrt(10009), 9);
    const faint = advice.faintest * advice.electrons;
    expect(faint / Math.sqrt(faint + 9)).toBeCloseTo(3, 9);
  });
});

describe("sharpness", () => {
  it("joins variances and grants a wish with slits that then show it", () => {
    const now = sharpness(path, map, pixel, 460e-9);
    expect(now.linearDispersion).toBeCloseTo(2e5, 3);
    const variance = (20e-6 ** 2 + pixel ** 2) / 12 + (0.3762 * (460e-9 / 0.02) * 0.3) ** 2;
    expect(now.width.total / (2.3548 * Math.sqrt(variance))).toBeCloseTo(1, 4);
    expect(now.resolvingPower).toBeCloseTo(460e-9 / now.wavelength, 6);
    const slits = slitsFor(path, map, pixel, 460e-9, { wavelength: 0.1e-9, deflection: 80e-6 });
    const then = sharpness(
      { ...path, plumbSlit: slits.plumbSlit ?? 0, levelSlit: slits.levelSlit ?? 0 },
      map,
      pixel,
      460e-9,
    );
    expect(then.wavelength / 0.1e-9).toBeCloseTo(1, 9);
    expect(then.deflection / 80e-6).toBeCloseTo(1, 9);
  });

  it("refuses a wish that closed slits cannot grant, naming what they can", () => {
    expect(() => slitsFor(path, map, pixel, 460e-9, { wavelength: 1e-12 })).toThrow(
      /^wavelength: expected at least 0\..* nm/,
    );
    expect(() => slitsFor(path, map, pixel, 460e-9, { deflection: 1e-6 })).toThrow(
      /^deflection: expected at least .* µrad/,
    );
  });
});
