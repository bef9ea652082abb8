import { describe, expect, it } from "vitest";
import type { Frame } from "./api.ts";
import { meanFrame } from "./mean-frame.ts";

const frame = (samples: readonly number[], depth: 8 | 16 = 8): Frame => ({
  columns: samples.length,
  rows: 1,
  channels: 1,
  depth,
  samples: depth === 8 ? Uint8Array.from(samples) : Uint16Array.from(samples),
});

describe("the mean of frames", () => {
  it("keeps a single frame as it is", () => {
    const one = frame([1, 2, 3]);
    expect(meanFrame([one], "dark")).toBe(one);
  });

  it("keeps what lies between two steps of 8 bits, and full scale", () => {
    const mean = meanFrame([frame([10, 255, 0]), frame([11, 255, 0])], "dark");
    expect(mean.depth).toBe(16);
    // 10.5 of 255 is 2698.5 of 65535.
    expect([...mean.samples]).toEqual([2699, 65535, 0]);
  });

  it("does not mix frames of different kinds", () => {
    expect(() => meanFrame([frame([1, 2]), frame([1, 2, 3])], "dark")).toThrow(
      /^dark: expected frames all like/,
    );
    expect(() => meanFrame([frame([1, 2]), frame([1, 2], 16)], "dark")).toThrow(/16 bits/);
  });
});
