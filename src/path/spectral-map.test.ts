import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { DisperserInput } from "./api.ts";
import { spectralMap } from "./spectral-map.ts";
import { plainBench } from "./testing/plain-bench.ts";

const deg = Math.PI / 180;
const base = plainBench({
  focalLength: 0.5,
  disperser: { kind: "linear", wavelengthPerLength: 2e-6 },
  centreWavelength: 460.7e-9,
  beamSize: 4e-3,
  beamWidth: 4e-3,
});
const amici = (change: Partial<Extract<DisperserInput, { kind: "direct-vision" }>> = {}): DisperserInput => ({
  kind: "direct-vision",
  crown: "517642",
  flint: "728284",
  flintApex: 100 * deg,
  undeviated: 589.3e-9,
  elements: 3,
  trains: 1,
  ...change,
});
const grating = (incidence = 0): DisperserInput => ({
  kind: "grating",
  groovesPerMetre: 1.2e6,
  order: 1,
  incidence,
});
const shapes: DisperserInput[] = [
  amici(),
  amici({ trains: 2 }),
  amici({ elements: 5, flintApex: 70 * deg }),
  amici({ elements: 5, flintApex: 70 * deg, trains: 2 }),
  grating(),
  grating(0.47),
  base.disperser,
];

describe("spectralMap", () => {
  it("puts the centre wavelength in the middle and longer waves to the right", () => {
    for (const disperser of shapes) {
      const map = spectralMap({ ...base, centreWavelength: 600e-9, disperser });
      expect(map.position(600e-9)).toBe(0);
      expect(map.position(601e-9)).toBeGreaterThan(0);
      expect(map.reach.left).toBeLessThan(0);
      expect(map.reach.right).toBeGreaterThan(0);
    }
  });

  it("inverts itself, alone and in numbers", () => {
    fc.assert(
      fc.property(fc.constantFrom(...shapes), fc.double({ min: 0, max: 1, noNaN: true }), (disperser, t) => {
        const map = spectralMap({ ...base, centreWavelength: 600e-9, disperser });
        const x = Math.min(map.reach.right, map.reach.left + t * (map.reach.right - map.reach.left));
        const w = map.wavelengthAt(x);
        expect(Math.abs(map.position(w) - x)).toBeLessThan(1e-12);
        const out = new Float64Array(1);
        map.positions(new Float64Array([w]), out);
        expect(Math.abs(out[0] - x)).toBeLessThan(1e-11);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("doubles with a second train of the same glass", () => {
    const one = spectralMap({ ...base, centreWavelength: 589.3e-9, disperser: amici() });
    const two = spectralMap({ ...base, centreWavelength: 589.3e-9, disperser: amici({ trains: 2 }) });
    const slope = (map: typeof one): number => map.position(589.4e-9) - map.position(589.2e-9);
    expect(slope(two) / slope(one)).toBeCloseTo(2, 3);
    expect(one.stretch).toBeCloseTo(1, 9);
  });

  it("follows the grating equation, its limit and its stretch", () => {
    const map = spectralMap({ ...base, centreWavelength: 768e-9, disperser: grating() });
    const angle = (w: number): number => Math.asin(1.2e6 * w) - Math.asin(1.2e6 * 768e-9);
    expect(map.position(770e-9)).toBeCloseTo(0.3 * Math.tan(angle(770e-9)), 12);
    expect(map.reach.longest).toBeCloseTo(1 / 1.2e6, 12);
    expect(map.reach.rightLimit).toMatch(/order/);
    expect(map.stretch).toBeCloseTo(1 / Math.cos(Math.asin(1.2e6 * 768e-9)), 6);
    expect(() => map.position(840e-9)).toThrow(/840\.000 nm; beyond lies the diffracted order/);
    // Lines bow by x/f = mgλ/(2 cosβ)·γ² for light at γ to the plane (from the direction cosines, to second order).
    const sine = 1.2e6 * 768e-9;
    expect(map.smile * 0.3).toBeCloseTo(sine / (2 * Math.sqrt(1 - sine * sine)), 2);
  });

  it("refuses prisms and centre wavelengths that light cannot pass", () => {
    expect(() => spectralMap({ ...base, disperser: amici({ flintApex: 130 * deg }) })).toThrow(
      /flintApex.*130\.0 deg/,
    );
    expect(() => spectralMap({ ...base, disperser: amici({ crown: "123456" }) })).toThrow(
      /path\.disperser\.crown/,
    );
    expect(() => spectralMap({ ...base, centreWavelength: 900e-9, disperser: grating() })).toThrow(
      /centreWavelength.*900/,
    );
    expect(() => spectralMap({ ...base, disperser: amici({ flint: "517642" }) })).toThrow(
      /part the colours|parts|differ/,
    );
    expect(() => spectralMap({ ...base, disperser: { kind: "linear", wavelengthPerLength: 0 } })).toThrow(
      /wavelengthPerLength/,
    );
    expect(() =>
      spectralMap({ ...base, disperser: { ...grating(), groovesPerMetre: -1 } as DisperserInput }),
    ).toThrow(/grooves/);
  });
});
