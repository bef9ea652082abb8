import { describe, expect, it } from "vitest";
import { sixJ } from "./wigner.ts";

describe("6j symbol", () => {
  it("has the closed values of Edmonds, table 5", () => {
    // {a b c; 0 c b} = (−1)^(a+b+c)/√((2b+1)(2c+1))
    expect(sixJ(1, 1, 1, 0, 1, 1)).toBeCloseTo(-1 / 3, 14);
    expect(sixJ(2, 1.5, 0.5, 0, 0.5, 1.5)).toBeCloseTo(1 / Math.sqrt(8), 14);
    expect(sixJ(1, 1, 1, 1, 1, 1)).toBeCloseTo(1 / 6, 14);
    expect(sixJ(0.5, 0.5, 1, 0.5, 0.5, 1)).toBeCloseTo(1 / 6, 14);
  });

  it("is orthogonal: Σ_x (2x+1)(2f+1){a b x; c d f}² = 1", () => {
    const sets = [
      [0.5, 1.5, 2.5, 3.5, 4],
      [1, 1, 1, 2, 2],
      [1.5, 0.5, 2.5, 1.5, 3],
    ];
    for (const [a, b, c, d, f] of sets) {
      let sum = 0;
      for (let x = Math.abs(a - b); x <= a + b; x++)
        sum += (2 * x + 1) * (2 * f + 1) * sixJ(a, b, x, c, d, f) ** 2;
      expect(sum).toBeCloseTo(1, 13);
    }
  });

  it("vanishes where a triangle is broken", () => {
    expect(sixJ(1, 1, 3, 1, 1, 1)).toBe(0);
    expect(sixJ(0.5, 0.5, 0.5, 1, 1, 1)).toBe(0);
  });
});
