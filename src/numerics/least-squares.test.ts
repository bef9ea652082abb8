import { describe, expect, it } from "vitest";
import { leastSquares } from "./least-squares.ts";
import { addGram, factorOfGram, factorTall, inverseGram, solveUpper } from "./least-squares-qr.ts";
import { linearLeastSquares } from "./linear-least-squares.ts";

const x = Float64Array.from({ length: 40 }, (_, i) => i / 10);

describe("leastSquares", () => {
  const decay = (p: Float64Array, out: Float64Array): void => {
    for (let i = 0; i < x.length; i++) out[i] = p[0] * Math.exp(-p[1] * x[i]) - 3 * Math.exp(-0.7 * x[i]);
  };

  it("finds an exact solution", () => {
    const found = leastSquares({ start: [1, 0.1], residualCount: x.length, residuals: decay });
    expect(found.converged).toBe(true);
    expect(found.parameters[0]).toBeCloseTo(3, 9);
    expect(found.parameters[1]).toBeCloseTo(0.7, 9);
  });

  it("stays inside its bounds and says which one holds", () => {
    const found = leastSquares({
      start: [1, 0.1],
      residualCount: x.length,
      residuals: decay,
      upper: [10, 0.5],
    });
    expect(found.parameters[1]).toBe(0.5);
    expect(found.atBound).toEqual([false, true]);
    // With the rate held, the amplitude is a linear problem with a closed answer.
    let top = 0;
    let bottom = 0;
    for (const t of x) {
      top += 3 * Math.exp(-1.2 * t);
      bottom += Math.exp(-1 * t);
    }
    expect(found.parameters[0]).toBeCloseTo(top / bottom, 9);
    expect(found.covariance[0]).toBeCloseTo(1 / bottom, 9);
    expect(found.covariance[3]).toBe(0);
  });

  it("with a robust loss shrugs off an outlier that pulls plain squares away", () => {
    const values = Float64Array.from(x, (t) => 2 + 0.5 * t);
    values[20] += 100;
    const lineBy = (loss: "squares" | "huber" | "cauchy"): Float64Array =>
      leastSquares({
        start: [0, 0],
        residualCount: x.length,
        residuals: (p, out) => {
          for (let i = 0; i < x.length; i++) out[i] = p[0] + p[1] * x[i] - values[i];
        },
        loss,
        lossScale: 1,
      }).parameters;
    expect(Math.abs(lineBy("squares")[0] - 2)).toBeGreaterThan(1);
    expect(Math.abs(lineBy("huber")[0] - 2)).toBeLessThan(0.1);
    expect(Math.abs(lineBy("cauchy")[0] - 2)).toBeLessThan(0.01);
  });

  describe("told when a fall counts as nothing", () => {
    // A decay with two outliers; slopes by hand.
    const slope = (p: Float64Array, i: number, k: number): number =>
      k === 0 ? Math.exp(-p[1] * x[i]) : -x[i] * p[0] * Math.exp(-p[1] * x[i]);
    const residuals = (p: Float64Array, out: Float64Array): void => {
      decay(p, out);
      for (let i = 0; i < x.length; i++)
        out[i] = (out[i] + 0.01 * Math.sin(9 * i) + (i % 19 === 7 ? 0.5 : 0)) / 0.01;
    };
    const n = 2;
    let drawn = 0;
    const problem = {
      start: [2, 0.5],
      residualCount: x.length,
      residuals,
      loss: "huber" as const,
      jacobian: (p: Float64Array, _r: Float64Array, out: Float64Array): void => {
        drawn++;
        for (let k = 0; k < n; k++)
          for (let i = 0; i < x.length; i++) out[k * x.length + i] = slope(p, i, k) / 0.01;
      },
    };
    const best = leastSquares(problem);
    const nothing = 1e-3;

    it("ends within it of the least cost, with fewer slopes drawn", () => {
      const every = drawn;
      drawn = 0;
      const found = leastSquares({ ...problem, fallTolerance: nothing });
      expect(drawn).toBeLessThan(every);
      expect(drawn).toBeLessThanOrEqual(found.iterations);
      expect(found.cost - best.cost).toBeLessThan(nothing);
      expect(found.converged).toBe(true);
      for (let i = 0; i < n * n; i++) expect(found.covariance[i] / best.covariance[i]).toBeCloseTo(1, 2);
    });

    it("a look at the start alone: what the slopes promise is about what a fit brings", () => {
      const near = { ...problem, start: Array.from(best.parameters, (v) => v * 1.001) };
      const seen = leastSquares({ ...near, fallTolerance: Number.POSITIVE_INFINITY });
      expect(Array.from(seen.parameters)).toEqual(near.start);
      expect(seen.promised).toBeGreaterThan(0);
      expect(seen.promised / (seen.cost - best.cost)).toBeCloseTo(1, 1);
    });

    it("by normal equations alone finds the same", () => {
      const kept = leastSquares({ ...problem, fallTolerance: nothing });
      const byProducts = {
        ...problem,
        fallTolerance: nothing,
        normal: (
          p: Float64Array,
          r: Float64Array,
          rootWeights: Float64Array | null,
          gram: Float64Array,
          moment: Float64Array,
        ): void => {
          gram.fill(0);
          moment.fill(0);
          for (let i = 0; i < x.length; i++) {
            const weight = (rootWeights?.[i] ?? 1) ** 2;
            for (let b = 0; b < n; b++) {
              const row = slope(p, i, b) / 0.01;
              moment[b] += weight * row * r[i];
              for (let a = 0; a <= b; a++) gram[b * n + a] += (weight * row * slope(p, i, a)) / 0.01;
            }
          }
        },
      };
      const found = leastSquares(byProducts);
      for (let k = 0; k < n; k++) expect(found.parameters[k]).toBeCloseTo(kept.parameters[k], 9);
      for (let i = 0; i < n * n; i++) expect(found.covariance[i] / kept.covariance[i]).toBeCloseTo(1, 9);
      for (let i = 0; i < n * x.length; i++) expect(found.jacobian[i]).toBeCloseTo(kept.jacobian[i], 6);
      drawn = 0;
      const without = leastSquares({ ...byProducts, wantsJacobian: false });
      expect(without.jacobian.length).toBe(0);
      expect(drawn).toBe(0);
      expect(without.parameters).toEqual(found.parameters);
    });
  });

  it("refuses to start where the residuals are not finite", () => {
    const run = () =>
      leastSquares({ start: [0], residualCount: 1, residuals: (_p, out) => out.fill(Number.NaN) });
    expect(run).toThrow(/not finite/);
  });
});

describe("triangles", () => {
  const rows = 12;
  const columns = 3;
  const matrix = Float64Array.from({ length: rows * columns }, (_, i) => Math.sin(1 + i * i));
  const rhs = Float64Array.from({ length: rows }, (_, i) => Math.cos(i));

  it("by reflection and by Cholesky lead to the same solution and covariance", () => {
    const a = factorTall(matrix.slice(), rhs.slice(), rows, columns);
    const gram = new Float64Array(columns * columns);
    const moment = new Float64Array(columns);
    addGram(matrix, rhs, rows, columns, gram, moment);
    const b = factorOfGram(gram, moment, columns);
    const one = solveUpper(a.upper, a.rhs, columns);
    const two = solveUpper(b.upper, b.rhs, columns);
    for (let k = 0; k < columns; k++) expect(two[k]).toBeCloseTo(one[k], 10);
    const covariance = inverseGram(a.upper, columns);
    const other = inverseGram(b.upper, columns);
    for (let i = 0; i < other.length; i++) expect(other[i]).toBeCloseTo(covariance[i], 10);
    // The solution leaves a residual at right angles to every column.
    for (let j = 0; j < columns; j++) {
      let dot = 0;
      for (let i = 0; i < rows; i++) {
        let model = 0;
        for (let k = 0; k < columns; k++) model += matrix[k * rows + i] * one[k];
        dot += matrix[j * rows + i] * (rhs[i] - model);
      }
      expect(Math.abs(dot)).toBeLessThan(1e-12);
    }
  });
});

describe("linearLeastSquares", () => {
  it("weighs by the given deviations", () => {
    const fit = linearLeastSquares([Float64Array.of(1, 1)], Float64Array.of(0, 10), Float64Array.of(1, 3));
    // Weighted mean with weights 1 and 1/9.
    expect(fit.parameters[0]).toBeCloseTo(1, 12);
    expect(fit.covariance[0]).toBeCloseTo(0.9, 12);
    expect(fit.chiSquare).toBeCloseTo(1 + 9, 12);
  });
});
