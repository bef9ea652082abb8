/** Drawing every n-th row of the frame against drawing all of them, in the picture and in the fit. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expose } from "../picture/index.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../setup/index.ts";
import { curveWorkspace } from "./curve-model.ts";
import { fitPicture } from "./fit-picture.ts";
import { fitPixels, fitScratch, type PixelFit, renderValues } from "./pixel-fit.ts";

const COLUMNS = 220;
const ROWS = 120;
const whole = parseSetup(
  parseJsonObject(
    readFileSync(new URL("../../examples/potassium-grating.json", import.meta.url), "utf8"),
    "potassium-grating",
  ),
);
const camera = {
  ...whole.camera,
  columns: COLUMNS,
  rows: ROWS,
  pixel: 4 * whole.camera.pixel,
  blackLevel: 0.02,
};
const setup = { ...whole, camera };
const curve = curveStage(setup, vapourStage(setup));
const fitted = fitPicture({
  hot: expose(pictureStage(setup, curve).light.slice(), camera, 1),
  cold: expose(pictureStage(setup, coldCurve(curve)).light.slice(), camera, 2),
  setup,
});
const { hot, setting, fixed, slitWidth, undeflected, stored, terms, fit, pixels } = fitted;
const size = { columns: COLUMNS, rows: ROWS };

function drawn(every: number): Float64Array {
  const scratch = fitScratch(COLUMNS, ROWS);
  renderValues(setting, fit.values, slitWidth, curveWorkspace(setting), scratch, size, every);
  return scratch.image;
}

function fitOf(list: Int32Array, every: number): PixelFit {
  return fitPixels({
    frame: hot,
    setting,
    fixed: { ...fixed, ...fit.values },
    slitWidth,
    noise: undeflected.noise,
    stored,
    every,
    scratch: fitScratch(COLUMNS, ROWS),
    pixels: list,
    loss: "squares",
    maxIterations: 30,
    fallTolerance: 1e-6,
    terms: terms.map((term) => ({ ...term, start: fit.values[term.name] })),
  });
}

describe.each([2, 3, 5])("every %i. row", (every) => {
  const onRows = pixels.filter((i) => Math.floor(i / COLUMNS) % every === 0);

  it("those rows are the same to the last bit, the others dark", () => {
    const all = drawn(1);
    const some = drawn(every);
    let lit = 0;
    let other = 0;
    some.forEach((v, i) => {
      const wanted = Math.floor(i / COLUMNS) % every === 0 ? all[i] : 0;
      if (wanted > 0.01) lit++;
      if (!Object.is(v, wanted)) other++;
    });
    expect(lit).toBeGreaterThan(100);
    expect(other).toBe(0);
  });

  it("a fit of pixels on those rows is the one with all rows drawn", () => {
    const some = fitOf(onRows, every);
    const all = fitOf(onRows, 1);
    expect(some.solution.parameters).toEqual(all.solution.parameters);
    expect(some.solution.covariance).toEqual(all.solution.covariance);
  });

  it("it agrees with the fit of all rows as well as fewer pixels can: within four standard deviations of the difference", () => {
    const some = fitOf(onRows, every).solution;
    const n = terms.length;
    let widened = 0;
    terms.forEach(({ prior, step }, k) => {
      const whole = fit.solution.covariance[k * n + k];
      const part = some.covariance[k * n + k];
      if (part > 1.2 * whole) widened++;
      // A part of the data scatters about the whole by the difference of the two variances.
      const limit = 4 * Math.sqrt(Math.max(part - whole, 0)) + (prior ? 0.05 * prior.sigma : step);
      expect(Math.abs(some.parameters[k] - fit.solution.parameters[k])).toBeLessThan(limit);
    });
    expect(widened).toBeGreaterThan(n / 2);
  });
});
