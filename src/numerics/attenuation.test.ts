import { describe, expect, it } from "vitest";
import { attenuation } from "./attenuation.ts";

describe("attenuation", () => {
  it("is exp(−x) to the last digits over every order of magnitude", () => {
    let worst = 0;
    for (let i = 0; i <= 20000; i++) {
      const x = 10 ** (-12 + (14.84 * i) / 20000);
      worst = Math.max(worst, Math.abs(attenuation(x) / Math.exp(-x) - 1));
    }
    // Its own 4e-16 and the library's last bit.
    expect(worst).toBeLessThan(6.3e-16);
  });

  it("agrees with values of more digits (mpmath 1.3, 30 digits, rounded)", () => {
    // mp.exp(-mpf(x)) for x exact in binary
    for (const [x, value] of [
      [0.5, 0.6065306597126334],
      [1, 0.36787944117144233],
      [10, 4.539992976248485e-5],
      [700, 9.85967654375977e-305],
    ] as const)
      expect(Math.abs(attenuation(x) / value - 1)).toBeLessThan(4e-16);
  });

  it("is 1 without and 0 beyond what a number can hold, and falls without a step back where the halvings meet", () => {
    expect(attenuation(0)).toBe(1);
    expect(attenuation(746)).toBe(0);
    expect(attenuation(Infinity)).toBe(0);
    for (let n = 1; n < 40; n++) {
      const border = (n - 0.5) * Math.LN2;
      const [a, b, c] = [border * (1 - 1e-13), border, border * (1 + 1e-13)].map(attenuation);
      expect(a).toBeGreaterThan(b);
      expect(b).toBeGreaterThan(c);
    }
  });
});
