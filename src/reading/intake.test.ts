import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { averageFrames, expose, type Frame } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, vapourStage } from "../setup/index.ts";
import { type Reading, readDarkLines, readPicture, turnWanted } from "./index.ts";

const setup = benchSetup();
const curve = curveStage(setup, vapourStage(setup));
const { light } = pictureStage(setup, curve);
const hot = expose(light, setup.camera, 1);
const cold = expose(pictureStage(setup, coldCurve(curve)).light, setup.camera, 2);

describe("a crossed-prism picture given as a plain spectrum", () => {
  it("is refused, and the command for it named", () => {
    expect(() => readDarkLines({ picture: hot, setup })).toThrow(/straight spectrum.*command read/);
  });

  it("a straight one with the same dark lines is measured, tilted or not", () => {
    for (const lean of [0, 0.03]) {
      // Every column's light gathered in one band, as without any bending.
      const { columns, rows } = setup.camera;
      const straight = new Float32Array(columns * rows);
      for (let c = 0; c < columns; c++) {
        let sum = 0;
        for (let r = 0; r < rows; r++) sum += light[r * columns + c];
        for (let k = 0; k < 30; k++)
          straight[Math.round(100 + k + lean * (c - columns / 2)) * columns + c] = (sum / 30) * 3;
      }
      const { lines } = readDarkLines({ picture: expose(straight, setup.camera, 3), setup });
      expect(lines.every((line) => line.columnDensity !== null)).toBe(true);
    }
  });
});

describe("a region", () => {
  it("that leaves nothing of the curve, or does not lie in the picture, is refused", () => {
    const region = (columns: readonly [number, number], rows: readonly [number, number]) => () =>
      readPicture({ hot, cold, setup, marks: { region: { columns, rows } } });
    expect(region([100, 120], [20, 40])).toThrow(/0 pixels on the curve/);
    expect(region([10, 4000], [20, 209])).toThrow(
      /region: expected an area in the picture, columns 0–399, rows 0–229/,
    );
  });
});

describe("several frames made into one", () => {
  it("read more exactly than one, by the root of their number", () => {
    const one = readPicture({ hot, cold, setup, options: { beamHeights: 3, rough: true } });
    const mean = readPicture({ hot, meanOf: 4, cold, setup, options: { beamHeights: 3, rough: true } });
    // The same frame said to be a mean of four: its noise is believed half as large, its χ² four times.
    expect(mean.reducedChiSquare / one.reducedChiSquare).toBeCloseTo(4, 0);
  });

  it("a mean of cold frames does not make the hot one quieter: χ² stays what it was", () => {
    const light = pictureStage(setup, coldCurve(curve)).light;
    const colds = [11, 12, 13, 14].map((seed) => expose(light, setup.camera, seed));
    // All pixels: the few of a rough fit know the gradient's shape, and with it the uncertainty, to a sixth only.
    const options = { beamHeights: 3 };
    const ones = colds.map((each) => readPicture({ hot, cold: each, setup, options }));
    const { frame } = averageFrames(colds, 1);
    const mean = readPicture({ hot, cold: frame, coldMeanOf: 4, setup, options });
    const among = (of: (reading: Reading) => number): number =>
      ones.reduce((sum, reading) => sum + of(reading), 0) / ones.length;
    const chi = among((reading) => reading.reducedChiSquare);
    expect(mean.reducedChiSquare / chi).toBeCloseTo(1, 1);
    // What one frame of this size, or a mean of four, tells of the noise scatters by some 3 % in σ: sets of four frames give 0.99, 1.01, 1.02 and 1.06. Told as one it would be about a half.
    const claimed = (reading: Reading): number => reading.columnGradient.standardUncertainty;
    expect(Math.abs(claimed(mean) / among(claimed) - 1)).toBeLessThan(0.1);
    // Said to be one frame, it would make the hot picture seem four times as bad as it is.
    const untold = readPicture({ hot, cold: frame, setup, options });
    expect(untold.reducedChiSquare / chi).toBeGreaterThan(2.5);
  });
});

describe("a picture of nothing", () => {
  const even = (value: number, depth: 8 | 16): Frame => {
    const samples = depth === 8 ? new Uint8Array(400 * 230) : new Uint16Array(400 * 230);
    return { columns: 400, rows: 230, channels: 1, depth, samples: samples.fill(value) };
  };
  it.each([
    [even(0, 8), /received a picture without any light in it/],
    [even(3, 16), /received a picture without any light in it/],
    [even(255, 8), /received a picture equally bright everywhere/],
    [even(65535, 16), /received a picture equally bright everywhere/],
  ])("black or white is called so (%#)", (frame, sentence) => {
    expect(() => readPicture({ hot: frame, setup })).toThrow(sentence);
    expect(turnWanted({ hot: frame, setup })).toBe("none");
  });
});
