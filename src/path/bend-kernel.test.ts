/** The loop on WebAssembly vectors gives the bits of the plain one. */
import { describe, expect, it } from "vitest";
import { fastBends } from "./bend-kernel.ts";
import { type Bends, plainBends } from "./bend-loops.ts";

/** Numbers from 0 to 1 that look like noise, the same in every run. */
function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Curves of `heights` beams at n wavelengths whose optical depths are given or spread over all orders of magnitude. */
function curves(n: number, heights: number, lists: number, depths: readonly number[] = []): Bends {
  const next = noise(n * 31 + heights);
  const sign = (): number => (next() < 0.5 ? -1 : 1);
  return {
    perAtom: Array.from({ length: lists }, () => ({
      refractivityPerDensity: Float64Array.from({ length: n }, () => sign() * 10 ** (-40 + 20 * next())),
      crossSection: Float64Array.from({ length: n }, (_, i) => depths[i] ?? 10 ** (-14 + 18 * next())),
    })),
    gradient: Float64Array.from({ length: heights }, () => sign() * 1e21 * next()),
    gas: Float64Array.from({ length: heights }, () => sign() * 1e-4 * next()),
    density: Float64Array.from({ length: heights }, () => (depths.length > 0 ? 1 : 0.2 + next())),
    deflection: new Float64Array(n * heights),
    transmission: new Float64Array(n * heights),
  };
}

/** Place of the first number that is not the same; −1 where all are. */
function difference(a: Float64Array, b: Float64Array): number {
  return a.findIndex((v, i) => !Object.is(v, b[i]));
}

const fast = fastBends();

// Without WebAssembly vectors there is nothing to set beside the plain loop, which is then what runs.
describe.skipIf(fast === undefined)("curves on vectors", () => {
  const both = (bends: Bends): number[] => {
    const plain = {
      ...bends,
      deflection: bends.deflection.slice(),
      transmission: bends.transmission.slice(),
    };
    plainBends(plain);
    (fast ?? plainBends)(bends);
    expect(plain.deflection.some((bend) => bend !== 0)).toBe(true);
    return [
      difference(bends.deflection, plain.deflection),
      difference(bends.transmission, plain.transmission),
    ];
  };

  it.each([
    [1, 1, 1],
    [2, 3, 1],
    [7, 5, 5],
    [20_001, 3, 1],
    [40_000, 4, 4],
    [999, 61, 61],
  ])("%i wavelengths at %i heights, %i lists", (n, heights, lists) => {
    expect(both(curves(n, heights, lists))).toEqual([-1, -1]);
  });

  it("at every halving and its neighbours, where the series change, and beyond what a double holds", () => {
    const borders = Array.from({ length: 1080 }, (_, k) => (k - 0.5) * Math.LN2);
    const steps = [-1e-6, -1e-12, -2e-16, 0, 2e-16, 1e-12, 1e-6];
    const near = [0.01, ...borders].flatMap((x) => steps.map((step) => x * (1 + step)));
    const odd = [0, -0, -1e-9, 5e-324, 1e-300, 744, 745, 745.13, 745.2, 746, 1e5, 1e300, Infinity, NaN];
    const depths = [...near, ...odd, ...odd.flatMap((x) => [x, 0.3, x, 1e-3])];
    expect(both(curves(depths.length, 2, 1, depths))).toEqual([-1, -1]);
  });

  it("of a beam after a longer one: nothing of the longer shows", () => {
    expect(both(curves(5001, 2, 2))).toEqual([-1, -1]);
    expect(both(curves(3, 2, 2))).toEqual([-1, -1]);
  });
});
