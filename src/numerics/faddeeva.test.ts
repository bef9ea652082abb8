import { describe, expect, it } from "vitest";
import { faddeeva, faddeevaArray } from "./faddeeva.ts";
import { faddeevaByTrapezoid, RADIUS } from "./faddeeva-table.ts";

const out = new Float64Array(2);
const other = new Float64Array(2);

describe("faddeeva", () => {
  it("is 1 at the origin and exp(−x²) in its real part on the real axis", () => {
    faddeeva(0, 0, out);
    expect(out[0]).toBe(1);
    expect(out[1]).toBe(0);
    faddeeva(26, 0, out);
    expect(out[0] / Math.exp(-676)).toBeCloseTo(1, 12);
  });

  it("mirrors about the imaginary axis to the last bit", () => {
    for (const [x, y] of [
      [0.3, 0.2],
      [3.1, 1e-9],
      [7.9, 3],
      [12, 1e-3],
      [1e160, 1],
    ] as const) {
      faddeeva(x, y, out);
      faddeeva(-x, y, other);
      expect(other[0]).toBe(out[0]);
      expect(other[1]).toBe(-out[1]);
    }
  });

  it("agrees with the trapezoidal rule, which shares no code with it, all over the inner disc", () => {
    let worst = 0;
    for (let r = 0.05; r < RADIUS; r += 0.0937) {
      for (let angle = 0.05; angle < 1.5; angle += 0.0731) {
        faddeeva(r * Math.cos(angle), r * Math.sin(angle), out);
        faddeevaByTrapezoid(r * Math.cos(angle), r * Math.sin(angle), other);
        const size = Math.hypot(other[0], other[1]);
        worst = Math.max(worst, Math.hypot(out[0] - other[0], out[1] - other[1]) / size);
      }
    }
    expect(worst).toBeLessThan(2e-15);
  });

  it("agrees with it in the corners of the cells, where the Taylor series is longest, in both components", () => {
    let worst = 0;
    for (let i = 0; i < 31; i++) {
      for (let j = 0; j < 31; j++) {
        const x = 0.125 + 0.25 * i - 1e-9;
        const y = 0.125 + 0.25 * j - 1e-9;
        if (x * x + y * y >= RADIUS * RADIUS) continue;
        faddeeva(x, y, out);
        faddeevaByTrapezoid(x, y, other);
        worst = Math.max(worst, Math.abs(out[0] / other[0] - 1), Math.abs(out[1] / other[1] - 1));
      }
    }
    expect(worst).toBeLessThan(5e-15);
  });

  it("is continuous across the border of its regimes and of its cells", () => {
    const step = 1e-13;
    for (const [x, y] of [
      [8, 1e-12],
      [6, Math.sqrt(28)],
      [1e-9, 8],
      [2.625, 0.01],
      [2.625, 0.125],
      [5, 0.125],
    ] as const) {
      faddeeva(x * (1 - step), y * (1 - step), out);
      faddeeva(x * (1 + step), y * (1 + step), other);
      // w changes by about |2 z² w|·2·step at most
      const allowed = 4 * (x * x + y * y + 1) * step + 5e-15;
      expect(Math.abs(out[0] / other[0] - 1)).toBeLessThan(allowed);
      expect(Math.abs(out[1] / other[1] - 1)).toBeLessThan(allowed);
    }
  });

  it("writes where it is told to, and arrays give the same as single points", () => {
    const x = Float64Array.of(0.5, -3, 20);
    const y = Float64Array.of(0, 1e-7, 4);
    const many = new Float64Array(6);
    faddeevaArray(x, y, many);
    const single = new Float64Array(8);
    for (let k = 0; k < 3; k++) faddeeva(x[k], y[k], single, 2 * k + 2);
    expect([...single.subarray(2)]).toEqual([...many]);
  });

  it("refuses the lower half plane and what is not finite", () => {
    for (const [x, y] of [
      [1, -1e-300],
      [Number.NaN, 1],
      [Infinity, 0],
      [0, Number.NaN],
    ] as const) {
      expect(() => {
        faddeeva(x, y, out);
      }).toThrow(/z: expected a finite complex number with Im z ≥ 0/);
      expect(() => {
        faddeevaArray(Float64Array.of(x), Float64Array.of(y), out);
      }).toThrow(/Im z ≥ 0/);
    }
  });
});
