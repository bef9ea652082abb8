// @vitest-environment node
import { describe, expect, it } from "vitest";
import { type Frame, meanFrame } from "../../picture/index.ts";
import { createRunningMean } from "./running-mean.ts";

const frame = (seed: number, channels: 1 | 3 = 1): Frame => ({
  columns: 7,
  rows: 5,
  channels,
  depth: 8,
  samples: Uint8Array.from({ length: 35 * channels }, (_, i) => (i * 7919 + seed * 104_729) % 256),
});

describe("the running mean", () => {
  it("is the mean of the newest frames, whatever went through before, and follows a shorter wish at once", () => {
    const mean = createRunningMean();
    const given: Frame[] = [];
    for (let i = 0; i < 20; i++) {
      const most = i < 12 ? 8 : 3;
      given.push(frame(i));
      expect(mean.add(frame(i), most)).toEqual(meanFrame(given.slice(-most), "frame"));
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
