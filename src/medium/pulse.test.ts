import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { glassMedium } from "./formula-media.ts";
import { oscillatorMedium } from "./oscillators.ts";
import { carryPulse, type PulseInput } from "./pulse.ts";
import { vapourMedium } from "./vapour-medium.ts";

const C = 299792458;
const RE = 2.8179403205e-15;
const LINE = 589e-9;

/** One oscillator of 500 MHz width; optical depth by density. */
const WIDTH = 2 * Math.PI * 500e6;
const LENGTH = 0.1;
const medium = (density: number) =>
  oscillatorMedium({ oscillators: [{ wavelength: LINE, strength: 0.64, width: WIDTH }], density });
const block = (density: number, rest: Partial<PulseInput> = {}): PulseInput => ({
  medium: medium(density),
  length: LENGTH,
  carrier: LINE,
  shape: "block",
  duration: 5e-9,
  ...rest,
});

/** J₁ by Bessel's integral (Abramowitz & Stegun 9.1.21), trapezoid rule: exact to rounding for periodic integrands. */
function besselOne(x: number): number {
  const n = 64 + Math.ceil(2 * x);
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const t = (2 * Math.PI * i) / n;
    sum += Math.cos(t - x * Math.sin(t));
  }
  return sum / n;
}

/**
 * A step of light on resonance after a Lorentz line (Crisp, Phys. Rev. A 1, 1604 (1970), small-area pulses; from memory):
 * E(τ) = 1 − ∫₀^τ √(b/s) J₁(2√(bs)) e^(−γs/2) ds with b = α₀Lγ/4, integrated here in u = √s.
 */
function stepField(depth: number, tau: number): number {
  const b = (depth * WIDTH) / 4;
  const top = Math.sqrt(tau);
  const n = 4000;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const u = ((i + 0.5) / n) * top;
    sum += (2 * Math.sqrt(b) * besselOne(2 * Math.sqrt(b) * u) * Math.exp((-WIDTH * u * u) / 2) * top) / n;
  }
  return 1 - sum;
}

describe("a pulse with a sharp front", () => {
  it("follows the closed form of a step through a Lorentz line", () => {
    const density = 1e17;
    const depth = ((4 * Math.PI * RE * C * 0.64 * density) / WIDTH) * LENGTH;
    const report = carryPulse(block(density, { points: 2 ** 15, windowDurations: 16 }));
    for (const tau of [5e-11, 2e-10, 6e-10, 1.5e-9, 4e-9]) {
      const j = Math.round((tau - report.time[0]) / (report.time[1] - report.time[0]));
      const expected = stepField(depth, report.time[j]) ** 2;
      expect(Math.abs(report.transmitted[j] - expected), `at ${tau}`).toBeLessThan(2e-4);
    }
  });

  it("lets its front through an opaque line in full, and nothing before it", () => {
    // optical depth 22: e^(−22) is left of a long pulse, all of its first instant
    const report = carryPulse(block(1e17, { points: 2 ** 17, windowDurations: 16 }));
    const first = report.transmitted[2 ** 15 + 1];
    expect(first).toBeGreaterThan(0.97);
    expect(report.after.front).toBe(0);
    expect(report.aheadOfFront).toBeLessThan(1e-12);
    expect(report.energy).toBeLessThan(0.02);
  });

  it("shows less ahead of the front with every refinement: it is the transform's doing, not the light's", () => {
    const ahead = [12, 13, 14, 15].map(
      (n) => carryPulse(block(1e17, { points: 2 ** n, windowDurations: 16 })).aheadOfFront,
    );
    for (let i = 1; i < ahead.length; i++) expect(ahead[i]).toBeLessThan(ahead[i - 1] / 8);
  });

  it("has nothing before the front where the phase outruns light and the group velocity is negative", () => {
    const carrier = LINE;
    const report = carryPulse({
      medium: medium(2e15),
      length: LENGTH,
      carrier,
      shape: "cut-gauss",
      duration: 4e-9,
    });
    expect(report.groupDelay).toBeLessThan(0);
    expect(report.after.peak).toBeLessThan(report.before.peak);
    expect(report.after.centre).toBeLessThan(report.before.centre);
    expect(report.after.front).toBeGreaterThanOrEqual(0);
    expect(report.aheadOfFront).toBeLessThan(1e-6);
    expect(report.statements).toContain(
      "The group velocity is beyond c or negative here: it moves the peak within the pulse, not its front.",
    );
    expect(
      report.statements.some((statement) => statement.startsWith("No light comes before the front at c")),
    ).toBe(true);
  });

  it("never has light before the front, whatever the depth, the detuning and the shape", () => {
    const depths = fc.double({ min: 13, max: 18, noNaN: true }).map((power) => 10 ** power);
    const detunings = fc.double({ min: -6, max: 6, noNaN: true });
    fc.assert(
      fc.property(depths, detunings, fc.constantFrom("block", "cut-gauss"), (density, detuning, shape) => {
        const carrier = (2 * Math.PI * C) / ((2 * Math.PI * C) / LINE + detuning * WIDTH);
        const report = carryPulse(block(density, { carrier, shape }));
        expect(report.aheadOfFront).toBeLessThan(1e-6);
        expect(report.after.front).toBeGreaterThanOrEqual(0);
        expect(report.energy).toBeLessThan(1 + 1e-9);
      }),
      { numRuns: 25 },
    );
  });

  it("travels at the group velocity where the medium only delays", () => {
    // 20 widths off the line, a long pulse: little absorbed, little distorted
    const carrier = (2 * Math.PI * C) / ((2 * Math.PI * C) / LINE + 20 * WIDTH);
    const report = carryPulse({
      medium: medium(1e18),
      length: LENGTH,
      carrier,
      shape: "cut-gauss",
      duration: 20e-9,
    });
    expect(report.groupDelay).toBeGreaterThan(1e-11);
    expect((report.after.peak - report.before.peak) / report.groupDelay).toBeCloseTo(1, 1);
  });

  it("carries energy away only by absorption", () => {
    const carrier = (2 * Math.PI * C) / ((2 * Math.PI * C) / LINE + 200 * WIDTH);
    const report = carryPulse({
      medium: medium(1e15),
      length: LENGTH,
      carrier,
      shape: "block",
      duration: 20e-9,
    });
    expect(report.energy).toBeCloseTo(1, 4);
  });

  it("goes through hot potassium vapour without a precursor", () => {
    const vapour = vapourMedium({ element: "K", density: 1e19, temperature: 500 });
    const report = carryPulse({
      medium: vapour,
      length: 0.05,
      carrier: 766.70089e-9,
      shape: "block",
      duration: 1e-9,
    });
    expect(report.aheadOfFront).toBeLessThan(1e-6);
    expect(report.lateShare).toBeLessThan(1e-6);
    expect(report.after.front).toBeGreaterThanOrEqual(0);
    expect(report.statements[0]).toMatch(/^(The|No)/);
  });

  it("is late in glass by the group delay", () => {
    const report = carryPulse({
      medium: glassMedium("620364"),
      length: 0.01,
      carrier: 600e-9,
      shape: "cut-gauss",
      duration: 200e-12,
      points: 2 ** 12,
      windowDurations: 16,
    });
    expect((report.after.peak - report.before.peak) / report.groupDelay).toBeCloseTo(1, 2);
    expect(report.after.front).toBeGreaterThan(0);
  });

  it("says when the window is too short", () => {
    const carrier = (2 * Math.PI * C) / ((2 * Math.PI * C) / LINE + 0.2 * WIDTH);
    const report = carryPulse({
      medium: oscillatorMedium({
        oscillators: [{ wavelength: LINE, strength: 0.64, width: 1e6 }],
        density: 1e15,
      }),
      length: LENGTH,
      carrier,
      shape: "block",
      duration: 1e-9,
      points: 2048,
      windowDurations: 8,
    });
    expect(report.lateShare).toBeGreaterThan(1e-6);
    expect(report.statements.at(-1)).toContain("the window is too short");
  });

  it.each([
    [{ length: 0 }, "pulse.length: expected a length above 0 m, received 0."],
    [{ carrier: -1 }, "pulse.carrier: expected a wavelength above 0 m, received -1."],
    [{ duration: Number.NaN }, "pulse.duration: expected a time above 0 s, received NaN."],
    [{ points: 1000 }, "pulse.points: expected a power of two from 1024 to 1048576, received 1000."],
    [
      { windowDurations: 2 },
      "pulse.windowDurations: expected a window of 8 to 100000 durations, received 2.",
    ],
    [{ duration: 1e-15 }, "pulse.duration: expected a pulse of many optical cycles, or fewer points"],
  ])("refuses %o", (rest, sentence) => {
    expect(() => carryPulse(block(1e15, rest))).toThrow(sentence);
    expect(() => carryPulse(block(1e15, rest))).toThrow(Refusal);
  });

  it("keeps the coarser answer, and says so, where refining would leave the medium's colours", () => {
    const open = medium(1e20);
    const narrow = {
      ...open,
      indexAt(wavelengths: Float64Array) {
        if (wavelengths.some((l) => Math.abs(l - LINE) > 0.1e-9)) {
          throw new Refusal({
            code: "x",
            field: "wavelength",
            received: "another",
            expected: "one within 0.1 nm",
          });
        }
        return open.indexAt(wavelengths);
      },
    };
    const report = carryPulse(block(1, { medium: narrow }));
    expect(report.time).toHaveLength(2 ** 13);
    expect(report.aheadOfFront).toBeGreaterThan(1e-6);
    expect(report.statements.join(" ")).toContain("the steps in time are too coarse");
    expect(() => carryPulse(block(1, { medium: narrow, duration: 1e-10 }))).toThrow(
      "expected one within 0.1 nm",
    );
  });

  it("refuses a bandwidth that the medium cannot answer", () => {
    expect(() => carryPulse({ ...block(1), medium: glassMedium("620364"), duration: 6e-13 })).toThrow(
      "for glass 620364",
    );
  });
});
