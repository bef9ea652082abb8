import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { averageFrames, expose, type Frame } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, vapourStage } from "../setup/index.ts";
import { exposuresOf } from "./exposures.ts";
import { diagnose, readPicture } from "./index.ts";

const setup = benchSetup();
const vapour = vapourStage(setup);
const curve = curveStage(setup, vapour);
const shot = (cold: boolean, times: number, seed: number): Frame => {
  const { camera } = setup;
  const { light } = pictureStage(setup, cold ? coldCurve(curve) : curve);
  const exposure = camera.exposure * times;
  return { ...expose(light, { ...camera, exposure }, seed), exposure };
};

describe("a cold frame exposed otherwise than the hot picture", () => {
  const [hot, cold] = [shot(false, 0.5, 1), shot(true, 1, 2)];
  const silent = ({ exposure: _, ...frame }: Frame): Frame => frame;

  it("is scaled to the hot one where the files state both times, and the reading says so", () => {
    const reading = readPicture({ hot, cold, setup });
    expect(reading.warnings[0]).toMatch(
      /^The cold frame was exposed otherwise than the hot picture \(.* s against .* s\): its light was multiplied by 0\.500\.$/,
    );
    const brightness = reading.parameters.find(({ name }) => name === "brightness")!;
    expect(Math.abs(brightness.value - 1)).toBeLessThan(4 * brightness.standardUncertainty + 0.002);
    expect(reading.columnGradient.value / vapour.middle.columnGradient).toBeCloseTo(1, 2);
    // The brightness is fitted in any case: not told, the other numbers are the same.
    const untold = readPicture({ hot: silent(hot), cold: silent(cold), setup });
    expect(untold.parameters.find(({ name }) => name === "brightness")?.value).toBeCloseTo(0.5, 2);
    expect(untold.columnDensity.value / reading.columnDensity.value).toBeCloseTo(1, 3);
    expect(untold.warnings.join(" ")).not.toMatch(/exposed/);
  });

  it("is no fogged window; where the files are silent the evidence names the exposure", () => {
    expect(diagnose({ hot, cold, setup }, vapour).causes[0]?.cause).toBe("as-predicted");
    const [first] = diagnose({ hot: silent(hot), cold: silent(cold), setup }, vapour).causes;
    expect([first?.cause, first?.evidence]).toEqual([
      expect.stringMatching(/window-fogged|smoke/),
      expect.stringMatching(/50 % of the light lost .* if both were exposed alike/),
    ]);
  });
});

describe("exposures as the files state them", () => {
  const frame = (stated: Partial<Frame>): Frame => ({
    columns: 1,
    rows: 1,
    channels: 1,
    depth: 8,
    samples: Uint8Array.of(0),
    ...stated,
  });
  const hot = frame({ exposure: 0.02, sensitivity: 400, aperture: 4 });

  it("light goes as time, sensitivity and the square of the aperture; only what both state counts", () => {
    const cold = frame({ exposure: 0.01, sensitivity: 100, aperture: 2.8 });
    const { light, gain, notes } = exposuresOf(hot, cold, undefined);
    expect(light).toBeCloseTo((2 * 4) / (4 / 2.8) ** 2, 12);
    expect(gain).toBe(4);
    expect(notes).toEqual([
      "The cold frame was exposed otherwise than the hot picture (1/100 s, ISO 100, f/2.8 against 1/50 s, ISO 400, f/4): its light was multiplied by 3.92. Another aperture also changes how sharp the lines are: leave it alone between them.",
    ]);
    expect(exposuresOf(hot, frame({ aperture: 4 }), undefined)).toEqual({ light: 1, gain: 1, notes: [] });
    expect(exposuresOf(hot, frame({}), frame({})).notes).toEqual([]);
    expect(exposuresOf(frame({}), cold, cold).light).toBe(1);
  });

  it("a dark frame of another time or sensitivity is named, once; one of another aperture is dark all the same", () => {
    const dark = frame({ exposure: 0.04, sensitivity: 400, aperture: 22 });
    expect(exposuresOf(hot, hot, dark).notes).toEqual([
      expect.stringMatching(
        /^The dark frame was exposed otherwise than the hot picture \(1\/25 s, ISO 400, f\/22 against 1\/50 s, ISO 400, f\/4\): .* take dark frames as the pictures are taken\.$/,
      ),
    ]);
    expect(exposuresOf(hot, hot, frame({ exposure: 0.02, aperture: 22 })).notes).toEqual([]);
  });

  it("frames exposed otherwise than the first are not averaged, and the mean keeps what they state", () => {
    expect(averageFrames([hot, hot], 1).frame).toMatchObject({
      exposure: 0.02,
      sensitivity: 400,
      aperture: 4,
    });
    expect(() => averageFrames([hot, hot, frame({ exposure: 0.04 })], 1)).toThrow(
      "frame 3: expected frames exposed alike to be averaged, like the first: exposure time in s 0.02, received exposure time in s 0.04.",
    );
  });
});
