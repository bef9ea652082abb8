// @vitest-environment node
import { describe, expect, it } from "vitest";
import { fontSize, letterHeight } from "./letters.ts";

describe("letters for the last row", () => {
  it("subtend twenty minutes of arc: 58 mm at ten metres", () => {
    // 20' is a third of a degree; for so small an angle the arc and the upright letter agree to 1e-5.
    expect(letterHeight(10)).toBeCloseTo((10 * 2 * Math.PI) / 360 / 3, 5);
    expect(letterHeight(20)).toBeCloseTo(2 * letterHeight(10), 12);
  });
  it("take their share of the window, capitals being seven tenths of a font's size", () => {
    // 58.18 mm of a wall of 2 m are 2.909 % of 1080 pixels: capitals of 31.4 pixels.
    expect(0.698 * fontSize(10, 2, 1080)).toBeCloseTo(31.416, 2);
  });
});
