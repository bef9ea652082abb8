import { describe, expect, it } from "vitest";
import { evenMosaic, type Frame, mosaicFactors } from "./index.ts";

/** A dark picture with a bright line six rows high, seen by each colour with its own sensitivity. */
function mosaicOf(sensitivity: readonly [number, number, number], depth: 8 | 16 = 16): Frame {
  const [columns, rows] = [120, 80];
  const unit = depth === 16 ? 100 : 1;
  const list = Array.from({ length: columns * rows }, (_, i) => {
    const [r, c] = [Math.floor(i / columns), i % columns];
    const lit = r >= 38 && r < 44 ? 120 : 0;
    return Math.round(unit * (10 + lit * sensitivity[(r & 1) + (c & 1)]));
  });
  return {
    columns,
    rows,
    channels: 1,
    depth,
    samples: depth === 8 ? Uint8Array.from(list) : Uint16Array.from(list),
  };
}

describe("a mosaic made grey", () => {
  it.each([8, 16] as const)("every pixel at its own place, all colours alike (%s bits)", (depth) => {
    const mosaic = mosaicOf([1, 0.8, 0.5], depth);
    const even = evenMosaic(mosaic, mosaicFactors(mosaic, "hot"));
    const full = depth === 8 ? 257 : 100;
    for (let i = 0; i < even.samples.length; i++) {
      const lit = i >= 38 * 120 && i < 44 * 120;
      expect(Math.abs(even.samples[i] / full / (lit ? 130 : 10) - 1)).toBeLessThan(0.06);
    }
    expect(even).toMatchObject({ depth: 16, gamma: 1, channels: 1 });
    // A count of the blue pixels is twice one of the red ones.
    expect((even.step ?? 0) / (depth === 8 ? 257 : 1)).toBeCloseTo(2, 1);
  });

  it("is refused where a colour is blind to the light, and what to do is named", () => {
    expect(() => mosaicFactors(mosaicOf([0.02, 0.6, 1]), "hot.png")).toThrow(
      /^hot\.png: .*red pixels see less than a quarter.*16-bit TIFF.*camera\.filter/,
    );
  });
});
