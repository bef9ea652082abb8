import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { oscillatorMedium } from "./oscillators.ts";
import { refractivitySlope } from "./velocities.ts";

const C = 299792458;
// CODATA 2022
const RE = 2.8179403205e-15;

describe("free oscillators", () => {
  it("follow the closed form far from the line", () => {
    const own = 589e-9;
    const medium = oscillatorMedium({
      oscillators: [{ wavelength: own, strength: 0.6, width: 1e8 }],
      density: 1e20,
    });
    for (const wavelength of [400e-9, 580e-9, 600e-9, 900e-9]) {
      // n − 1 = (r_e N/2π) f λ₀²λ²/(λ² − λ₀²) for n − 1 ≪ 1
      const wing =
        (RE * 1e20 * 0.6 * own ** 2 * wavelength ** 2) / (2 * Math.PI * (wavelength ** 2 - own ** 2));
      const got = medium.indexAt(Float64Array.of(wavelength)).refractivity[0];
      expect(Math.abs(got / wing - 1)).toBeLessThan(1e-6);
    }
  });

  it("absorb at the centre as they must", () => {
    const gamma = 1e9;
    const density = 1e15;
    const medium = oscillatorMedium({
      oscillators: [{ wavelength: 500e-9, strength: 0.5, width: gamma }],
      density,
    });
    // α(ω₀) = 4π r_e c f N/γ
    const expected = (4 * Math.PI * RE * C * 0.5 * density) / gamma;
    expect(medium.indexAt(Float64Array.of(500e-9)).absorption[0] / expected).toBeCloseTo(1, 6);
  });

  it("has a group index that is the derivative of its index, inside the line and out", () => {
    const gamma = 2 * Math.PI * 1e9;
    const medium = oscillatorMedium({
      oscillators: [
        { wavelength: 589e-9, strength: 0.6, width: gamma },
        { wavelength: 589.6e-9, strength: 0.3, width: gamma },
      ],
      density: 1e19,
    });
    const refractivity = (wavelength: number): number =>
      medium.indexAt(Float64Array.of(wavelength)).refractivity[0];
    // γ in wavelengths: λ²γ/2πc = 1.2 pm
    for (const [wavelength, step] of [
      [589.0003e-9, 0.02e-12],
      [589.3e-9, 1e-12],
      [589.6e-9, 0.02e-12],
      [650e-9, 1e-10],
    ]) {
      const slope = refractivitySlope(refractivity, wavelength, step);
      const expected = 1 + refractivity(wavelength) - wavelength * slope;
      const got = medium.indexAt(Float64Array.of(wavelength)).groupIndex[0];
      expect(Math.abs(got - expected) / Math.max(1, Math.abs(expected - 1))).toBeLessThan(1e-6);
    }
  });

  it("is exact where χ is not small", () => {
    // static limit: n² = 1 + 4π r_e c² N f/ω₀²
    const own = (2 * Math.PI * C) / 200e-9;
    const chi = (4 * Math.PI * RE * C ** 2 * 1e28) / own ** 2;
    const medium = oscillatorMedium({
      oscillators: [{ wavelength: 200e-9, strength: 1, width: 1e10 }],
      density: 1e28,
    });
    const { refractivity, phaseVelocity } = medium.indexAt(Float64Array.of(1));
    expect(refractivity[0]).toBeCloseTo(Math.sqrt(1 + chi) - 1, 10);
    expect(phaseVelocity[0]).toBeCloseTo(1 / Math.sqrt(1 + chi), 10);
  });

  it.each([
    [{ oscillators: [], density: 1 }, "oscillators: expected at least one oscillator, received none."],
    [
      { oscillators: [{ wavelength: 5e-7, strength: 1, width: 1 }], density: 0 },
      "density: expected a number density above 0 m-3",
    ],
    [
      { oscillators: [{ wavelength: 0, strength: 1, width: 1 }], density: 1 },
      "oscillators[0].wavelength: expected",
    ],
    [
      { oscillators: [{ wavelength: 5e-7, strength: -1, width: 1 }], density: 1 },
      "oscillators[0].strength: expected",
    ],
    [
      { oscillators: [{ wavelength: 5e-7, strength: 1, width: 0 }], density: 1 },
      "oscillators[0].width: expected",
    ],
    [{ oscillators: [{ wavelength: 5e-7, strength: Number.NaN, width: 1 }], density: 1 }, "received NaN"],
  ])("refuses %o", (list, sentence) => {
    expect(() => oscillatorMedium(list)).toThrow(sentence);
    expect(() => oscillatorMedium(list)).toThrow(Refusal);
  });
});
