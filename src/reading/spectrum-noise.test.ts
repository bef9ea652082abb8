/**
 * What an error of the cold frame's light does to the fitted values: foretold to first order, and seen by fitting again with light
 * that is off. The smoothing's own errors: against the scatter of smoothed draws.
 */
import { readFileSync } from "node:fs";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
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
import { COARSE_GRID } from "../vessel/index.ts";
import { fitPicture } from "./fit-picture.ts";
import { fitPixels, fitScratch } from "./pixel-fit.ts";
import { spectrumNoise } from "./spectrum-noise.ts";
import { smoothSpectrum } from "./spectrum.ts";

describe("an error of the light without vapour", () => {
  const text = readFileSync(new URL("../../examples/strontium.json", import.meta.url), "utf8");
  const whole = parseSetup(parseJsonObject(text, "strontium.json"));
  const camera = {
    ...whole.camera,
    columns: 160,
    rows: 100,
    pixel: 5 * whole.camera.pixel,
    blackLevel: 0.01,
  };
  const setup = { ...whole, camera };
  const curve = curveStage(setup, vapourStage(setup, { grid: COARSE_GRID }));
  const hot = expose(pictureStage(setup, curve).light, camera, 1);
  const cold = expose(pictureStage(setup, coldCurve(curve)).light, camera, 2);
  const fitted = fitPicture({ hot, cold, setup });

  /** Values fitted again, the light of each column off by so much. */
  const again = (off: Float64Array) =>
    fitPixels({
      frame: fitted.hot,
      setting: { ...fitted.setting, spectrum: fitted.setting.spectrum.map((s, c) => s + off[c]) },
      fixed: { ...fitted.fixed, ...fitted.fit.values },
      slitWidth: fitted.slitWidth,
      noise: fitted.undeflected.noise,
      sigma: fitted.fit.sigma,
      stored: fitted.stored,
      every: 1,
      scratch: fitScratch(fitted.hot.columns, fitted.hot.rows),
      pixels: fitted.pixels,
      loss: "squares",
      maxIterations: 30,
      fallTolerance: 1e-9,
      terms: fitted.terms.map((term) => ({ ...term, start: fitted.fit.values[term.name] })),
    }).values;

  it.each([
    { what: "a slope", shape: (x: number): number => x },
    {
      what: "a dent at the line's side",
      shape: (x: number): number => Math.exp(-0.5 * ((x - 0.1) / 0.1) ** 2),
    },
  ])("$what of a hundredth moves the column density as foretold, within 5 %", ({ shape }) => {
    const n = fitted.hot.columns;
    const { spectrum } = fitted.undeflected;
    const light = spectrum.map((s, c) => 0.01 * s * shape((2 * c) / n - 1));
    const added = spectrumNoise({
      ...fitted,
      undeflected: {
        ...fitted.undeflected,
        spectrumErrors: { shapes: [{ from: 0, light }], covariance: null },
      },
    });
    const at = fitted.terms.findIndex(({ name }) => name === "column density");
    const foretold = Math.sqrt(added[at * fitted.terms.length + at]);
    // Half the sum of both signs' shifts: what goes with the square drops out, and where the first fit stopped.
    const shift = (again(light)["column density"] - again(light.map((v) => -v))["column density"]) / 2;
    expect(Math.abs(shift) / foretold).toBeGreaterThan(0.95);
    expect(Math.abs(shift) / foretold).toBeLessThan(1.05);
  });
});

describe("errors of a smoothed spectrum", () => {
  const dice = xoroshiro128plus(3);
  const unit = (): number => ((dice.next() >>> 0) + 0.5) / 4294967296;
  const normal = (): number => Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit());
  const COLUMNS = 120;
  const sigma = Float64Array.from({ length: COLUMNS }, (_, c) => 0.01 * (1 + c / COLUMNS));

  it.each([
    { what: "a straight light, by a polynomial", light: (x: number): number => 1 + 0.3 * x, shapes: 2 },
    {
      what: "a lamp with lines, by a running parabola",
      light: (x: number): number => 1 + 0.4 * Math.sin(25 * x),
      shapes: COLUMNS,
    },
  ])("$what: the light scatters as claimed", ({ light, shapes }) => {
    const repeats = 400;
    const places = [3, 60, 110];
    const sums = places.map(() => 0);
    const squares = places.map(() => 0);
    const claimed = places.map(() => 0);
    for (let k = 0; k < repeats; k++) {
      const value = sigma.map((s, c) => light((2 * c) / (COLUMNS - 1) - 1) + s * normal());
      const smooth = smoothSpectrum({ value, sigma });
      const { covariance } = smooth.errors;
      places.forEach((c, p) => {
        sums[p] += smooth.light[c] / repeats;
        squares[p] += smooth.light[c] ** 2 / repeats;
        const at = smooth.errors.shapes.map((s) => s.light[c - s.from] ?? 0);
        at.forEach((a, i) => {
          at.forEach((b, j) => {
            const shared = covariance === null ? Number(i === j) : covariance[i * at.length + j];
            claimed[p] += (a * b * shared) / repeats;
          });
        });
      });
      if (k === 0) expect(smooth.errors.shapes).toHaveLength(shapes);
    }
    places.forEach((_place, p) => {
      // 400 draws know a variance to 7 %. An order too many, which the Bayes criterion takes by chance in 3 of 100 draws each, is not claimed: a
      // fifth more at the ends.
      const ratio = (squares[p] - sums[p] ** 2) / claimed[p];
      expect(ratio).toBeGreaterThan(0.79);
      expect(ratio).toBeLessThan(1.45);
    });
  });
});
