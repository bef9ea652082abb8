// @vitest-environment node
import { describe, expect, it } from "vitest";
import type { Frame } from "../../picture/index.ts";
import { createRunningMean } from "./running-mean.ts";

const frame = (seed: number, channels: 1 | 3 = 1): Frame => ({
  columns: 7,
  rows: 5,
  channels,
  depth: 8,
  samples: Uint8Array.from({ length: 35 * channels }, (_, i) => (i * 7919 + seed * 104_729) % 256),
});

/** Full scale of 8 bits is full scale of 16. */
const meanOf = (frames: readonly Frame[]): Frame => ({
  ...frames[0],
  depth: 16,
  samples: Uint16Array.from({ length: 35 }, (_, i) =>
    Math.round((257 * frames.reduce((sum, { samples }) => sum + samples[i], 0)) / frames.length),
  ),
});

describe("the running mean", () => {
  it("is the mean of the newest frames, whatever went through before, and follows a shorter wish at once", () => {
    const mean = createRunningMean();
    const given: Frame[] = [];
    for (let i = 0; i < 20; i++) {
      const most = i < 12 ? 8 : 3;
      given.push(frame(i));
      expect(mean.add(frame(i), most)).toEqual(i === 0 ? frame(0) : meanOf(given.slice(-most)));
      expect(mean.count()).toBe(Math.min(given.length, most));
    }
  });

  it("begins anew with frames of another kind", () => {
    const mean = createRunningMean();
    mean.add(frame(1), 8);
    mean.add(frame(2), 8);
    expect(mean.add(frame(3, 3), 8)).toEqual(frame(3, 3));
    expect(mean.count()).toBe(1);
  });
});
