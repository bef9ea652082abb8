import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { type DyeInput, dyeMedium } from "./dye.ts";
import { refractivitySlope } from "./velocities.ts";
import { waterMedium } from "./water.ts";

const C = 299792458;
/** An invented band, Gaussian in frequency: centre 520 nm, FWHM 40 nm, absorbance 2 in 0.1 mm. */
const OWN = (2 * Math.PI * C) / 520e-9;
const FWHM = (2 * Math.PI * C * 40e-9) / 520e-9 ** 2;
const PATH = 1e-4;

function band(from: number, to: number, step: number): DyeInput {
  const wavelengths = Float64Array.from(
    { length: Math.round((to - from) / step) + 1 },
    (_, i) => from + i * step,
  );
  const absorbance = wavelengths.map(
    (l) => 2 * Math.exp(-4 * Math.LN2 * (((2 * Math.PI * C) / l - OWN) / FWHM) ** 2),
  );
  return { wavelengths, absorbance, pathLength: PATH };
}

describe("a dye from its absorbance", () => {
  it("absorbs as measured", () => {
    const dye = dyeMedium(band(400e-9, 700e-9, 2e-9));
    const { absorption } = dye.indexAt(Float64Array.of(520e-9, 540e-9));
    expect(absorption[0] * PATH).toBeCloseTo(2 * Math.LN10, 5);
    const expected = 2 * Math.exp(-4 * Math.LN2 * (((2 * Math.PI * C) / 540e-9 - OWN) / FWHM) ** 2);
    expect((absorption[1] * PATH) / Math.LN10 / expected).toBeCloseTo(1, 4);
  });

  it("has the jump of index that a Gaussian band must have, 1.08 times half its peak extinction each way", () => {
    const dye = dyeMedium(band(400e-9, 700e-9, 2e-9));
    // peak of Dawson's function 0.5410 at x = 0.9241; κ₀ = α₀λ/4π
    const kappa = (2 * Math.LN10 * 520e-9) / (PATH * 4 * Math.PI);
    const offset = (0.9241 * FWHM) / Math.sqrt(4 * Math.LN2);
    const at = Float64Array.of((2 * Math.PI * C) / (OWN - offset), (2 * Math.PI * C) / (OWN + offset));
    const { refractivity } = dye.indexAt(at);
    const expected = (2 / Math.sqrt(Math.PI)) * 0.541044 * kappa;
    // the far tail of the other side and κ = α/ω shift it by a few per cent of itself
    expect((refractivity[0] - refractivity[1]) / 2 / expected).toBeCloseTo(1, 1);
    expect(Math.abs((refractivity[0] - refractivity[1]) / 2 / expected - 1)).toBeLessThan(0.03);
    expect(refractivity[0]).toBeGreaterThan(0);
    expect(refractivity[1]).toBeLessThan(0);
  });

  it("gives a strong food dye the numbers of the closed form, in a measured table of 2 nm steps", () => {
    // 0.05 mol/L, ε = 8.2e4 L/(mol cm) at 527 nm, band 38 nm wide (figures of a red xanthene dye, from memory; the band's
    // shape is an assumption). Closed form: κ₀ = 2.303 ε c λ/4π, Δn = (2/√π) κ₀ F(x), F Dawson's function:
    // κ₀ = 0.0396, peak 0.0242, at 45 nm from the middle 0.0137.
    const middle = (2 * Math.PI * C) / 527e-9;
    const width = (2 * Math.PI * C * 38e-9) / 527e-9 ** 2;
    const pathLength = 1e-5;
    const wavelengths = Float64Array.from({ length: 176 }, (_, i) => 400e-9 + i * 2e-9);
    const absorbance = wavelengths.map(
      (l) =>
        8.2e4 *
        0.05 *
        (pathLength * 100) *
        Math.exp(-4 * Math.LN2 * (((2 * Math.PI * C) / l - middle) / width) ** 2),
    );
    const dye = dyeMedium({ wavelengths, absorbance, pathLength, name: "red dye" });
    const { absorption } = dye.indexAt(Float64Array.of(527e-9));
    // the maximum lies between two points of the table
    expect(Math.abs(absorption[0] / (Math.LN10 * 8.2e4 * 0.05 * 100) - 1)).toBeLessThan(0.002);
    expect((absorption[0] * 527e-9) / (4 * Math.PI)).toBeCloseTo(0.0396, 3);
    const fine = Float64Array.from({ length: 1001 }, (_, i) => 480e-9 + i * 0.1e-9);
    const { refractivity } = dye.indexAt(fine);
    expect(Math.max(...refractivity)).toBeCloseTo(0.0242, 3);
    expect(Math.min(...refractivity)).toBeCloseTo(-0.0242, 3);
    // equal steps of wavelength are unequal steps of frequency: the two sides differ by a third, their mean follows
    const [blue, red] = dye.indexAt(Float64Array.of(482e-9, 572e-9)).refractivity;
    expect(red).toBeGreaterThan(-blue);
    expect((red - blue) / 2).toBeCloseTo(0.0137, 3);
  });

  it("hardly depends on how finely the band was sampled", () => {
    const at = Float64Array.of(480e-9, 500e-9, 535e-9, 560e-9, 620e-9);
    const coarse = dyeMedium(band(400e-9, 700e-9, 5e-9)).indexAt(at).refractivity;
    const fine = dyeMedium(band(400e-9, 700e-9, 0.5e-9)).indexAt(at).refractivity;
    const peak = 0.0046;
    coarse.forEach((value, i) => {
      expect(Math.abs(value - fine[i]) / peak).toBeLessThan(0.01);
    });
  });

  it("bounds the error of a table that is cut off", () => {
    const whole = dyeMedium(band(380e-9, 800e-9, 1e-9));
    const at = Float64Array.of(520e-9, 540e-9, 570e-9, 600e-9);
    const anchor = { wavelength: 580e-9, index: 1 + whole.indexAt(Float64Array.of(580e-9)).refractivity[0] };
    // cut off at 505 nm, on the flank of the band
    const cut = dyeMedium({ ...band(505e-9, 700e-9, 1e-9), anchor });
    const truth = whole.indexAt(at).refractivity;
    const bound = cut.outsideError(at);
    cut.indexAt(at).refractivity.forEach((value, i) => {
      expect(Math.abs(value - truth[i])).toBeLessThan(bound[i]);
    });
    expect(Math.abs(cut.indexAt(at).refractivity[0] - truth[0])).toBeGreaterThan(1e-4);
    expect(cut.outsideError(Float64Array.of(580e-9))[0]).toBe(0);
    expect(cut.remarks[0]).toContain("index fixed at 580\u202fnm by adding");
    expect(whole.remarks[0]).toContain("no index was measured");
  });

  it("stands on its host", () => {
    const at = Float64Array.of(600e-9, 650e-9);
    const inWater = dyeMedium({ ...band(400e-9, 700e-9, 2e-9), host: waterMedium() });
    const alone = dyeMedium(band(400e-9, 700e-9, 2e-9)).indexAt(at);
    const water = waterMedium().indexAt(at);
    const both = inWater.indexAt(at);
    both.refractivity.forEach((value, i) => {
      expect(value).toBeCloseTo(alone.refractivity[i] + water.refractivity[i], 14);
      expect(both.groupIndex[i] - 1).toBeCloseTo(alone.groupIndex[i] - 1 + water.groupIndex[i] - 1, 10);
    });
    const refractivity = (l: number): number => inWater.indexAt(Float64Array.of(l)).refractivity[0];
    const slope = refractivitySlope(refractivity, 600e-9, 0.5e-9);
    expect(both.groupIndex[0]).toBeCloseTo(1 + refractivity(600e-9) - 600e-9 * slope, 6);
    expect(dyeMedium({ ...band(400e-9, 700e-9, 2e-9), host: 1.5 }).indexAt(at).refractivity[0]).toBeCloseTo(
      0.5 + alone.refractivity[0],
      14,
    );
  });

  it("scales with dilution", () => {
    const at = Float64Array.of(550e-9);
    const once = dyeMedium(band(400e-9, 700e-9, 2e-9)).indexAt(at);
    const tenth = dyeMedium({ ...band(400e-9, 700e-9, 2e-9), dilution: 0.1 }).indexAt(at);
    expect(tenth.refractivity[0] / once.refractivity[0]).toBeCloseTo(0.1, 10);
    expect(tenth.absorption[0] / once.absorption[0]).toBeCloseTo(0.1, 10);
  });

  const good = band(400e-9, 700e-9, 10e-9);
  it.each([
    [
      { ...good, wavelengths: good.wavelengths.slice(0, 3) },
      "wavelengths: expected at least 4 points, received 3 points.",
    ],
    [
      { ...good, absorbance: good.absorbance.slice(1) },
      "absorbance: expected 31 values, one per wavelength, received 30 values.",
    ],
    [
      { ...good, wavelengths: good.wavelengths.toReversed() },
      "wavelengths[1]: expected wavelengths in m, above 0 and ascending",
    ],
    [
      { ...good, absorbance: good.absorbance.map((a, i) => (i === 4 ? Number.NaN : a)) },
      "absorbance[4]: expected a number, received NaN.",
    ],
    [{ ...good, pathLength: 0 }, "pathLength: expected a length above 0 m, received 0."],
    [{ ...good, dilution: -1 }, "dilution: expected a factor of 0 or more, received -1."],
    [
      { ...good, anchor: { wavelength: 800e-9, index: 1.5 } },
      "anchor.wavelength: expected a wavelength inside the table",
    ],
    [
      { ...good, anchor: { wavelength: 600e-9, index: 0 } },
      "anchor.index: expected an index between 0 and 10, received 0.",
    ],
  ])("refuses a faulty table (%#)", (input, sentence) => {
    expect(() => dyeMedium(input)).toThrow(sentence);
    expect(() => dyeMedium(input)).toThrow(Refusal);
  });

  it("stays one interval inside its table", () => {
    expect(() => dyeMedium(good).indexAt(Float64Array.of(405e-9))).toThrow(
      "from 410\u202fnm to 690\u202fnm for dye",
    );
  });
});
