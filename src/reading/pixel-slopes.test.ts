/** Slopes written by hand against central differences of the picture itself. */
import { describe, expect, it } from "vitest";
import type { Geometry } from "./geometry.ts";
import { type CurveOnNodes, modelScratch, renderPixels } from "./pixel-model.ts";
import { type CurveSlope, renderSlopes, SHAPE_SLOPES } from "./pixel-slopes.ts";
import type { Blur } from "./slit-tables.ts";
import { plainLoops, type SlopeLoops } from "./slope-loops.ts";

const COLUMNS = 120;
const ROWS = 90;
const GEOMETRY: Geometry = { columns: COLUMNS, rows: ROWS, roll: 0.02, smile: 3e-5 };
const BLUR: Blur = { slitHeight: 6, sigmaHeight: 1.3, slitWidth: 2, sigmaWidth: 1.1 };
const HEIGHTS = [-0.8, 0, 0.8];

/** A branch as steep as a row a cell in its middle, fanned out by height, fading towards it; `bend` and `dim` move it. */
function curve(bend: number, dim: number): CurveOnNodes {
  const nodes = Float64Array.from({ length: 400 }, (_, i) => -62 + i * 0.31);
  const n = nodes.length;
  const place = new Float64Array(3 * n);
  const light = new Float64Array(3 * n);
  HEIGHTS.forEach((t, j) => {
    nodes.forEach((u, i) => {
      place[j * n + i] = 1.5 + 0.01 * u + ((1 + 0.1 * t) * (60 + bend)) / (3 + Math.abs(u - 4));
      light[j * n + i] = 0.5 * Math.exp((-0.4 - dim) / (0.2 + 0.02 * (u - 4) ** 2));
    });
  });
  return { nodes, weights: Float64Array.of(0.3, 0.4, 0.3), place, light };
}

function image(at: CurveOnNodes, geometry: Geometry, blur: Blur): Float64Array {
  const scratch = modelScratch(COLUMNS, ROWS);
  renderPixels(at, geometry, blur, scratch);
  return scratch.image;
}

const H = 1e-4;
const moved = (key: keyof Geometry, by: number): Geometry => ({ ...GEOMETRY, [key]: GEOMETRY[key] + by });
const blurred = (key: keyof Blur, by: number): Blur => ({
  ...BLUR,
  [key]: BLUR[key] + by,
});
const here = curve(0, 0);
const cases: [string, (by: number) => Float64Array, number][] = [
  ["bend", (by) => image(curve(by, 0), GEOMETRY, BLUR), H],
  ["dim", (by) => image(curve(0, by), GEOMETRY, BLUR), H],
  ["roll", (by) => image(here, moved("roll", by), BLUR), 1e-6],
  ["smile", (by) => image(here, moved("smile", by), BLUR), 1e-8],
  ["plumb blur", (by) => image(here, GEOMETRY, blurred("sigmaWidth", by)), H],
  ["level blur", (by) => image(here, GEOMETRY, blurred("sigmaHeight", by)), H],
  ["level width", (by) => image(here, GEOMETRY, blurred("slitHeight", by)), H],
];

describe("slopes of the model picture", () => {
  const index = Int32Array.from({ length: COLUMNS * ROWS }, (_, i) => i);
  const slopes: CurveSlope[] = [
    [curve(H, 0), curve(-H, 0)],
    [curve(0, H), curve(0, -H)],
  ].map(([more, less]) => ({
    place: more.place.map((v, i) => (v - less.place[i]) / (2 * H)),
    light: more.light.map((v, i) => (v - less.light[i]) / (2 * H)),
  }));
  const stride = 3 + SHAPE_SLOPES.length;
  const drawn = (loops: SlopeLoops): Float64Array => {
    const job = { index, count: index.length, every: 1, loops, spare: 0 };
    return renderSlopes(here, slopes, GEOMETRY, BLUR, job).light;
  };
  const out = drawn(plainLoops);

  it("the light itself is the picture", () => {
    const picture = image(here, GEOMETRY, BLUR);
    const brightest = picture.reduce((a, b) => Math.max(a, b), 0);
    expect(brightest).toBeGreaterThan(0.3);
    picture.forEach((v, i) => {
      expect(Math.abs(out[i * stride] - v)).toBeLessThan(1e-6);
    });
  });

  it.each(cases)("%s", (name, at, step) => {
    const slot = 1 + cases.findIndex(([other]) => other === name);
    const more = at(step);
    const less = at(-step);
    let top = 0;
    let worst = 0;
    for (let i = 0; i < index.length; i++) {
      const quotient = (more[i] - less[i]) / (2 * step);
      top = Math.max(top, Math.abs(quotient));
      worst = Math.max(worst, Math.abs(quotient - out[i * stride + slot]));
    }
    expect(top).toBeGreaterThan(1e-3);
    // Tables are straight between 1/64 pixel: their slopes jump by that much.
    expect(worst / top).toBeLessThan(0.02);
  });
});
