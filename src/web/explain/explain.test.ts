// @vitest-environment node
import { describe, expect, it } from "vitest";
import demo from "../../../examples/blue-twins.json" with { type: "json" };
import { factsOf, pulseOf } from "./answers.ts";
import { cancellation, pairIndex, swingAt, widthInWavelength } from "./model.ts";

describe("one oscillator", () => {
  it("follows in step far below resonance, lags a quarter turn at it and half a turn far above", () => {
    expect(swingAt(500e-9, 500e-9, 1e9)).toEqual({ amplitude: 1, lag: Math.PI / 2 });
    expect(swingAt(510e-9, 500e-9, 1e9).lag).toBeLessThan(1e-3);
    expect(swingAt(490e-9, 500e-9, 1e9).lag).toBeGreaterThan(Math.PI - 1e-3);
  });
  it("swings 1/√2 as far half a width beside resonance", () => {
    const half = widthInWavelength(500e-9, 1e10) / 2;
    expect(swingAt(500e-9 + half, 500e-9, 1e10).amplitude).toBeCloseTo(Math.SQRT1_2, 5);
  });
});

describe("two oscillators", () => {
  it("cancel where their sum is zero, for any ratio", () => {
    for (const ratio of [0.5, 2, 4.3]) {
      const zero = cancellation(455.7e-9, 459.4e-9, ratio);
      const [left, at, right] = pairIndex(
        Float64Array.of(zero - 1e-12, zero, zero + 1e-12),
        455.7e-9,
        459.4e-9,
        [ratio, 1],
      );
      expect(Math.abs(at ?? 1)).toBeLessThan(Math.abs(left ?? 0) * 1e-3);
      expect(Math.sign(left ?? 0)).not.toBe(Math.sign(right ?? 0));
    }
  });
  it("of the demo cancel near where the whole vapour does, which the strong pair far away shifts", () => {
    const facts = factsOf(demo);
    const [shorter, longer] = facts.lines.filter(
      ({ wavelength }) => wavelength > 455e-9 && wavelength < 460e-9,
    );
    if (shorter === undefined || longer === undefined) throw new Error("the pair is missing");
    expect(shorter.strength / longer.strength).toBeCloseTo(4.3, 1);
    const alone = cancellation(shorter.wavelength, longer.wavelength, shorter.strength / longer.strength);
    expect(alone).toBeGreaterThan(456e-9);
    expect(alone).toBeLessThan(459e-9);
  });
});

describe("a pulse through the demo's vapour", () => {
  it("brings nothing before the front", () => {
    const pulse = pulseOf(demo, 456.2e-9, 20e-12);
    expect(pulse.aheadOfFront).toBeLessThan(1e-6);
    let ahead = 0;
    let all = 0;
    const { time, intensity } = pulse.travel;
    intensity.forEach((light, i) => {
      all += light;
      if ((time[i % time.length] ?? 0) < 0) ahead += light;
    });
    expect(all).toBeGreaterThan(0);
    expect(ahead / all).toBeLessThan(1e-3);
  });
});
