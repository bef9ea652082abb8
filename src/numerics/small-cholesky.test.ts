import { describe, expect, it } from "vitest";
import { choleskyInverse } from "./small-cholesky.ts";

describe("inverse of a symmetric matrix", () => {
  it("times the matrix is one, whatever the units of its rows", () => {
    const n = 12;
    const units = Float64Array.from({ length: n }, (_, i) => 10 ** (3 * (i % 5) - 6));
    // The Hilbert matrix is a hard one; its diagonal is lifted by a tenth.
    const matrix = Float64Array.from({ length: n * n }, (_, at) => {
      const [i, j] = [Math.floor(at / n), at % n];
      return (1 / (i + j + 1) + (i === j ? 0.1 : 0)) * units[i] * units[j];
    });
    const inverse = choleskyInverse(matrix, n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += matrix[i * n + k] * inverse[k * n + j];
        expect((sum * units[j]) / units[i]).toBeCloseTo(i === j ? 1 : 0, 9);
      }
  });

  it("says where there is none", () => {
    expect(() => choleskyInverse(Float64Array.of(1, 2, 2, 1), 2)).toThrow(/positive definite/);
  });
});
