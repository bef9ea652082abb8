import { describe, expect, it } from "vitest";
import { boxSlopes, pixelOfBox } from "./smooth-box.ts";

describe("slopes of a blurred box", () => {
  it.each([
    [0, 4, 1.2],
    [1.9, 4, 1.2],
    [-2.6, 4, 0.5],
    [0.3, 0.4, 2.5],
    [7, 5, 0.9],
  ])("at %f pixels, width %f, blur %f: those of differences", (v, width, sigma) => {
    const found = { value: 0, byPlace: 0, byWidth: 0, bySigma: 0 };
    boxSlopes(v, width, sigma, found);
    const h = 1e-4;
    const slope = (more: number, less: number): number => (more - less) / (2 * h);
    expect(found.value).toBe(pixelOfBox(v, width, sigma));
    // Differences err by h²/6 times a third derivative of order one, and by 1e-11/h of the tables.
    expect(found.byPlace).toBeCloseTo(
      slope(pixelOfBox(v + h, width, sigma), pixelOfBox(v - h, width, sigma)),
      6,
    );
    expect(found.byWidth).toBeCloseTo(
      slope(pixelOfBox(v, width + h, sigma), pixelOfBox(v, width - h, sigma)),
      6,
    );
    expect(found.bySigma).toBeCloseTo(
      slope(pixelOfBox(v, width, sigma + h), pixelOfBox(v, width, sigma - h)),
      6,
    );
  });
});
