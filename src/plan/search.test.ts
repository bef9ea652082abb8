import { describe, expect, it } from "vitest";
import { type Evaluate, search, type Tried, tradeOff } from "./search.ts";
import { fitSurrogate } from "./surrogate.ts";

const kept = (each: Tried): boolean => each.wishes !== undefined && each.limits.every((limit) => limit <= 0);

function best(tried: readonly Tried[]): number {
  return Math.min(...tried.filter(kept).map((each) => each.wishes?.[0] ?? Infinity));
}

/** The least wish on a dense grid, limits kept. */
function dense(evaluate: Evaluate, dimensions: number, side: number): { least: number; count: number } {
  const count = side ** dimensions;
  const all = Array.from({ length: count }, (_, i) => {
    const x = Float64Array.from(
      { length: dimensions },
      (_, c) => (Math.floor(i / side ** c) % side) / (side - 1),
    );
    return { x, ...evaluate(x) };
  });
  return { least: best(all), count };
}

describe("search", () => {
  // Exponentials of the wished numbers stand for heights and widths: 1 % of the optimum is 0.01 in the logarithm.
  const problems: [string, number, number, Evaluate][] = [
    [
      "one limit on a line",
      1,
      401,
      ([u]) => ({
        wishes: [-Math.log(0.2 + 3 * u * Math.exp(-2 * u))],
        limits: [Math.log((0.05 + u * u) / 0.12)],
      }),
    ],
    [
      "two limits in a square",
      2,
      41,
      ([u, v]) => ({
        wishes: [-Math.log(1 + u * (1.2 - u) + 0.7 * Math.sin(2.5 * v) + 0.3 * u * v)],
        limits: [Math.log((0.2 + u * u + 0.5 * v) / 0.75), Math.log((0.3 + v) / 1.05)],
      }),
    ],
    [
      "a bent valley in a cube, a corner without an answer",
      3,
      17,
      ([u, v, w]) =>
        u + v + w > 2.6
          ? { wishes: undefined, limits: [] }
          : {
              wishes: [4 * (v - u * u) ** 2 + (0.8 - u) ** 2 + 2 * (w - 0.4 * u) ** 2 - 1],
              limits: [0.3 - w + 0.1 * u],
            },
    ],
  ];
  it.each(problems)(
    "finds within 1 %% of a dense search by at most 5 %% of its points: %s",
    (_, dimensions, side, evaluate) => {
      const { least, count } = dense(evaluate, dimensions, side);
      const budget = Math.floor(0.05 * count);
      const tried = search(evaluate, { dimensions, wishes: 1, budget });
      expect(tried.length).toBeLessThanOrEqual(budget);
      expect(best(tried)).toBeLessThan(least + 0.01);
    },
  );

  it("spreads along a trade-off", () => {
    // Distance to (0,0) against distance to (1,0): every point between them is on the trade-off.
    const evaluate: Evaluate = ([u, v]) => ({ wishes: [u * u + v * v, (1 - u) ** 2 + v * v], limits: [] });
    const front = tradeOff(search(evaluate, { dimensions: 2, wishes: 2, budget: 60 }));
    expect(front.length).toBeGreaterThan(5);
    expect(Math.min(...front.map((each) => each.wishes?.[0] ?? 1))).toBeLessThan(0.02);
    expect(Math.min(...front.map((each) => each.wishes?.[1] ?? 1))).toBeLessThan(0.02);
    expect(front.some((each) => Math.abs(each.x[0] - 0.5) < 0.15 && each.x[1] < 0.1)).toBe(true);
  });

  it("is deterministic, and begins where it is told", () => {
    const evaluate: Evaluate = ([u]) => ({ wishes: [(u - 0.3) ** 2], limits: [] });
    const options = { dimensions: 1, wishes: 1, budget: 12, start: Float64Array.of(0.9) };
    expect(search(evaluate, options)).toEqual(search(evaluate, options));
    expect(search(evaluate, options)[0].x[0]).toBe(0.9);
  });

  it("survives a function without any answer", () => {
    expect(
      tradeOff(search(() => ({ wishes: undefined, limits: [] }), { dimensions: 2, wishes: 1, budget: 15 })),
    ).toEqual([]);
  });
});

describe("surrogate", () => {
  it("goes through its points, and through a plane everywhere", () => {
    const points = [
      [0.1, 0.2],
      [0.9, 0.3],
      [0.4, 0.8],
      [0.5, 0.5],
      [0.2, 0.6],
    ].map((p) => Float64Array.from(p));
    const plane = (p: Float64Array): number => 2 - 3 * p[0] + 0.5 * p[1];
    const bumps = points.map((p) => Math.sin(5 * p[0]) * p[1]);
    const surface = fitSurrogate(points, [points.map(plane), bumps]);
    points.forEach((p, i) => {
      expect(surface.value(p, 0)).toBeCloseTo(plane(p), 10);
      expect(surface.value(p, 1)).toBeCloseTo(bumps[i], 10);
    });
    const elsewhere = Float64Array.of(0.77, 0.11);
    expect(surface.value(elsewhere, 0)).toBeCloseTo(plane(elsewhere), 10);
  });
});
