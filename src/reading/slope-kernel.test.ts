/** The loops on WebAssembly vectors give the bits of the plain ones. */
import { describe, expect, it } from "vitest";
import type { CurveOnNodes } from "./pixel-model.ts";
import { type CurveSlope, renderSlopes, SHAPE_SLOPES } from "./pixel-slopes.ts";
import { fastLoops } from "./slope-kernel.ts";
import { plainLoops, type SlopeLoops } from "./slope-loops.ts";

const COLUMNS = 90;
const ROWS = 70;

/** Numbers in −1…1 that look like noise, the same in every run. */
function noise(count: number, seed: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => Math.sin(12.9898 * (i + 1) + 78.233 * seed) % 1);
}

/** Level, slanting, steep and off the frame; fanned out where it is steep, dark in one place. */
function curve(): CurveOnNodes {
  const nodes = Float64Array.from({ length: 300 }, (_, i) => -50 + i * 0.34);
  const n = nodes.length;
  const place = new Float64Array(3 * n);
  const light = new Float64Array(3 * n);
  [-0.8, 0, 0.8].forEach((t, j) => {
    nodes.forEach((u, i) => {
      place[j * n + i] = 0.02 * u + ((1 + 0.1 * t) * 90) / (0.9 + Math.abs(u - 4)) - 3;
      light[j * n + i] = 0.5 * Math.exp(-0.4 / (0.001 + 0.02 * (u - 4) ** 2));
    });
  });
  return { nodes, weights: Float64Array.of(0.3, 0.4, 0.3), place, light };
}

function slopesOf(count: number, size: number): CurveSlope[] {
  return Array.from({ length: count }, (_, q) => ({
    place: noise(size, q),
    light: noise(size, q + 100),
  }));
}

/** Place of the first number that is not the same; −1 where all are. */
function difference(a: Float64Array, b: Float64Array): number {
  return a.length === b.length ? a.findIndex((v, i) => !Object.is(v, b[i])) : 0;
}

const fast = fastLoops();

// Without WebAssembly vectors there is nothing to set beside the plain loops, which are then what the fit uses.
describe.skipIf(fast === undefined)("slopes on vectors", () => {
  const loops = fast ?? plainLoops;

  it.each([
    [2, 1],
    [3, 1],
    [14, 4],
  ])("pixels and columns of %i slopes, every %i. row", (count, every) => {
    const here = curve();
    // Every third pixel stays out.
    const index = new Int32Array(COLUMNS * ROWS).fill(-1);
    let listed = 0;
    for (let i = 0; i < index.length; i++) if (i % 3 > 0) index[i] = listed++;
    const stride = 1 + count + SHAPE_SLOPES.length;
    const slots = [-1, 0, ...Array.from({ length: stride - 1 }, (_, k) => k + 1)];
    const drawn = (by: SlopeLoops): { light: Float64Array; columns: Float64Array } => {
      const { light, room } = renderSlopes(
        here,
        slopesOf(count, here.place.length),
        { columns: COLUMNS, rows: ROWS, roll: 0.03, smile: 2e-4 },
        { slitHeight: 5, sigmaHeight: 1.2, slitWidth: 2, sigmaWidth: 0.9 },
        { index, count: listed, every, loops: by, spare: 16 * listed + 2000 * slots.length },
      );
      const weight = room.doubles(listed);
      const weightDark = room.doubles(listed);
      weight.set(noise(listed, 7));
      weightDark.set(noise(listed, 8));
      const stage = room.doubles(128 * slots.length);
      const apart = listed + 3;
      const columns = new Float64Array(apart * slots.length);
      by.turn(
        {
          light,
          stride,
          weight,
          weightDark,
          slots: room.words(Int32Array.from(slots)),
          perBrightness: 1.7,
          stage,
        },
        columns,
        apart,
      );
      return { light: light.slice(), columns };
    };
    const plain = drawn(plainLoops);
    expect(plain.light.filter((v) => v !== 0).length).toBeGreaterThan((0.1 * plain.light.length) / every);
    const vectors = drawn(loops);
    expect(difference(vectors.light, plain.light)).toBe(-1);
    expect(difference(vectors.columns, plain.columns)).toBe(-1);
    // A second time in a room that is no longer fresh.
    expect(difference(drawn(loops).light, plain.light)).toBe(-1);
  });

  it.each([
    [700, 1],
    [513, 4],
    [5001, 7],
    [1024, 19],
  ])("products of %i pixels, %i columns", (pixels, terms) => {
    const stride = terms + 3;
    const [a, b] = [plainLoops, loops].map((by) => {
      const room = by.room(8 * pixels * (stride + 4) + 8 * (terms + 4) * (terms + 140) + 4 * terms + 256);
      const filled = (count: number, seed: number): Float64Array => {
        const to = room.doubles(count);
        to.set(noise(count, seed));
        return to;
      };
      const gram = new Float64Array(terms * terms);
      const moment = new Float64Array(terms);
      by.addProducts(
        {
          light: filled(pixels * stride, 1),
          stride,
          weight: filled(pixels, 2),
          weightDark: filled(pixels, 3),
          slots: room.words(Int32Array.from({ length: terms }, (_, k) => (k === 1 ? -1 : (5 * k) % stride))),
          perBrightness: 1.7,
          stage: room.doubles((terms + 4) * (terms + 132)),
        },
        filled(pixels, 4),
        gram,
        moment,
      );
      for (let j = 0; j < terms; j++) gram.fill(0, j * terms + j + 1, (j + 1) * terms);
      return { gram, moment };
    });
    expect(b).toEqual(a);
    // The first column is the light itself, times the weight and a factor.
    const light = noise(pixels * stride, 1);
    const weight = noise(pixels, 2);
    let sum = 0;
    for (let i = 0; i < pixels; i++) sum += (light[i * stride] * 1.7 * weight[i]) ** 2;
    expect(b.gram[0]).toBeCloseTo(sum, 8);
  });
});
