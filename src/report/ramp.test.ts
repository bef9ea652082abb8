// @vitest-environment node
import { describe, expect, it } from "vitest";
import { lightness, rampFor } from "./ramp.ts";

describe("ramp", () => {
  it("falls strictly in lightness on paper and rises strictly in the dark themes", () => {
    for (const [theme, sign] of [
      ["paper", -1],
      ["lab", 1],
      ["red", 1],
    ] as const) {
      // Steps of eight: single steps may round to the same bytes.
      const light = Array.from({ length: 32 }, (_, i) => lightness(rampFor(theme)[i * 8] ?? 0));
      for (let i = 1; i < light.length; i++)
        expect(sign * ((light[i] ?? 0) - (light[i - 1] ?? 0)), `${theme} ${i}`).toBeGreaterThan(0);
    }
  });

  it("keeps the green and blue guns off in red, and gives lightness as CIE 1976 does", () => {
    for (const colour of rampFor("red")) expect(colour & 0x00ffff00).toBe(0);
    // CIE L* of sRGB white, black and mid grey 119: 100, 0, 50.0 (IEC 61966-2-1, CIE 15:2004).
    expect(lightness(0xffffffff)).toBeCloseTo(100, 6);
    expect(lightness(0xff000000)).toBe(0);
    expect(lightness(0xff777777)).toBeCloseTo(50.03, 1);
  });
});
