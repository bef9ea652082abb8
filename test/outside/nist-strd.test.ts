/**
 * Nonlinear least squares against the certified problems of NIST (fixtures/nist-strd.json holds the source): parameters,
 * their standard deviations and the sum of squares to six digits, from both published starting points.
 */
import { describe, expect, it } from "vitest";
import { leastSquares } from "../../src/numerics/least-squares.ts";
import reference from "./fixtures/nist-strd.json" with { type: "json" };

type Model = (b: Float64Array, x: number) => number;

const MODELS: Readonly<Record<string, Model>> = {
  Misra1a: (b, x) => b[0] * (1 - Math.exp(-b[1] * x)),
  Roszman1: (b, x) => b[0] - b[1] * x - Math.atan(b[2] / (x - b[3])) / Math.PI,
  MGH09: (b, x) => (b[0] * (x * x + x * b[1])) / (x * x + x * b[2] + b[3]),
  Misra1b: (b, x) => b[0] * (1 - (1 + (b[1] * x) / 2) ** -2),
  Misra1c: (b, x) => b[0] * (1 - 1 / Math.sqrt(1 + 2 * b[1] * x)),
  Misra1d: (b, x) => (b[0] * b[1] * x) / (1 + b[1] * x),
  Chwirut2: (b, x) => Math.exp(-b[0] * x) / (b[1] + b[2] * x),
  Lanczos2: threeDecays,
  Lanczos3: threeDecays,
  DanWood: (b, x) => b[0] * x ** b[1],
  MGH17: (b, x) => b[0] + b[1] * Math.exp(-x * b[3]) + b[2] * Math.exp(-x * b[4]),
  BoxBOD: (b, x) => b[0] * (1 - Math.exp(-b[1] * x)),
  Rat42: (b, x) => b[0] / (1 + Math.exp(b[1] - b[2] * x)),
  Rat43: (b, x) => b[0] / (1 + Math.exp(b[1] - b[2] * x)) ** (1 / b[3]),
  MGH10: (b, x) => b[0] * Math.exp(b[1] / (x + b[2])),
  Eckerle4: (b, x) => (b[0] / b[1]) * Math.exp(-0.5 * ((x - b[2]) / b[1]) ** 2),
  Thurber: (b, x) => (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1 + x * (b[4] + x * (b[5] + x * b[6]))),
};

function threeDecays(b: Float64Array, x: number): number {
  return b[0] * Math.exp(-b[1] * x) + b[2] * Math.exp(-b[3] * x) + b[4] * Math.exp(-b[5] * x);
}

const cases = reference.problems.flatMap((problem) =>
  problem.starts.map((start, k) => ({
    ...problem,
    start,
    title: `${problem.name} (${problem.level}), start ${k + 1}`,
  })),
);

describe("NIST StRD nonlinear regression", () => {
  it.each(cases)("$title", ({ name, start, data, certified, deviations, sumOfSquares }) => {
    const model = MODELS[name];
    const solution = leastSquares({
      start,
      residualCount: data.length,
      residuals: (b, out) => {
        for (let i = 0; i < data.length; i++) out[i] = model(b, data[i][1]) - data[i][0];
      },
      // MGH10 crawls along a curved valley from its far start: 5180 iterations.
      maxIterations: 20_000,
    });
    expect(solution.converged).toBe(true);
    const variance = (2 * solution.cost) / (data.length - start.length);
    certified.forEach((wanted, k) => {
      expect(Math.abs(solution.parameters[k] / wanted - 1)).toBeLessThan(1e-6);
      const deviation = Math.sqrt(solution.covariance[k * start.length + k] * variance);
      expect(Math.abs(deviation / deviations[k] - 1)).toBeLessThan(1e-6);
    });
    expect(Math.abs((2 * solution.cost) / sumOfSquares - 1)).toBeLessThan(1e-6);
  });
});
