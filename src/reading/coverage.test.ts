/**
 * Do the claimed uncertainties hold? A seeded sample of bench/campaign/reading-coverage.ts: one bench exposed again and
 * again, every exposure read. What so few repeats can tell: claims wrong by half their variance, not by a twentieth.
 */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { expose } from "../picture/index.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../setup/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";
import { buildReading } from "./answers.ts";
import type { Measured, Reading } from "./api.ts";
import { fitPicture } from "./fit-picture.ts";

const REPEATS = 20;
const ANSWERS = ["columnGradient", "columnDensity", "tilt"] as const;
const text = readFileSync(new URL("../../examples/strontium.json", import.meta.url), "utf8");
const whole = parseSetup(parseJsonObject(text, "strontium.json"));
const camera = {
  ...whole.camera,
  columns: 160,
  rows: 100,
  pixel: 5 * whole.camera.pixel,
  blackLevel: Math.max(whole.camera.blackLevel, 0.01),
};
const setup = { ...whole, camera };

const readings: Reading[] = [];
/** the camera's own variance over the one that the reading found, at half light */
let noiseShare = 0;

beforeAll(() => {
  const curve = curveStage(setup, vapourStage(setup, { grid: COARSE_GRID }));
  const hot = pictureStage(setup, curve).light.slice();
  const cold = pictureStage(setup, coldCurve(curve)).light.slice();
  const perLight = (1 - camera.blackLevel) / camera.fullWell;
  for (let k = 0; k < REPEATS; k++) {
    const fitted = fitPicture({
      hot: expose(hot, camera, 2 * k + 1),
      cold: expose(cold, camera, 2 * k + 2),
      setup,
    });
    const { floor, perLight: found } = fitted.undeflected.noise;
    noiseShare += ((perLight * camera.readNoise) ** 2 + 0.5 * perLight) / (floor + 0.5 * found) / REPEATS;
    readings.push(buildReading(fitted));
  }
}, 300_000);

const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
/** Distances from the mean of all, in claimed standard uncertainties, freed of the mean's own share. */
function offs(answer: (typeof ANSWERS)[number]): number[] {
  const seen: Measured[] = readings.map((reading) => reading[answer]);
  const middle = mean(seen.map((m) => m.value));
  return seen.map((m) => (m.value - middle) / m.standardUncertainty / Math.sqrt(1 - 1 / REPEATS));
}

describe(`${REPEATS} exposures of one bench`, () => {
  it("scatter as claimed: mean square within three of its own standard deviations", () => {
    const square = mean(ANSWERS.flatMap(offs).map((off) => off * off));
    // χ² of 3 · 19 freedoms: known to √(2/57) = 0.19.
    expect(square).toBeGreaterThan(1 - 3 * 0.19);
    expect(square).toBeLessThan(1 + 3 * 0.19);
  });

  it("68 % intervals hold about 68 %, 95 % intervals about 95 %", () => {
    const all = ANSWERS.flatMap(offs).map(Math.abs);
    const within = (limit: number): number => all.filter((off) => off < limit).length / all.length;
    // 60 offs: 68 ± 6 % and 95 ± 2.8 %, three times each.
    expect(within(0.9945)).toBeGreaterThan(0.5);
    expect(within(0.9945)).toBeLessThan(0.86);
    expect(within(1.96)).toBeGreaterThan(0.86);
  });

  it("the noise found is the camera's, so that what is claimed is the Cramér–Rao bound within a tenth", () => {
    expect(Math.sqrt(noiseShare)).toBeGreaterThan(0.9);
    expect(Math.sqrt(noiseShare)).toBeLessThan(1.1);
    expect(mean(readings.map((r) => r.reducedChiSquare))).toBeLessThan(1.1);
  });
});
