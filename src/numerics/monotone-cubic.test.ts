import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MonotoneCubic } from "./monotone-cubic.ts";

describe("MonotoneCubic", () => {
  it("passes through its points and reproduces a straight line", () => {
    const x = Float64Array.from([0, 1, 2.5, 4]);
    const line = new MonotoneCubic(
      x,
      x.map((v) => 3 - 2 * v),
    );
    for (const at of [0, 0.3, 1, 1.7, 3.9, 4]) expect(line.value(at)).toBeCloseTo(3 - 2 * at, 12);
  });

  it("takes two points", () => {
    expect(new MonotoneCubic(Float64Array.of(0, 2), Float64Array.of(1, 5)).value(1)).toBeCloseTo(3, 14);
  });

  it("converges as the third power on a monotone function", () => {
    const error = (n: number): number => {
      const x = Float64Array.from({ length: n + 1 }, (_, i) => i / n);
      const curve = new MonotoneCubic(x, x.map(Math.exp));
      let worst = 0;
      for (let i = 0; i < 997; i++)
        worst = Math.max(worst, Math.abs(curve.value(i / 997) - Math.exp(i / 997)));
      return worst;
    };
    expect(error(40) / error(80)).toBeGreaterThan(7);
  });

  it("never leaves the range of the two points around", () => {
    const values = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(values, fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }), (ys, share) => {
        const curve = new MonotoneCubic(
          Float64Array.from(ys, (_, i) => i + 0.3 * Math.sin(i)),
          Float64Array.from(ys),
        );
        for (let i = 0; i + 1 < ys.length; i++) {
          const a = i + 0.3 * Math.sin(i);
          const b = i + 1 + 0.3 * Math.sin(i + 1);
          const value = curve.value(a + share * (b - a));
          expect(value).toBeGreaterThanOrEqual(Math.min(ys[i], ys[i + 1]) - 1e-9);
          expect(value).toBeLessThanOrEqual(Math.max(ys[i], ys[i + 1]) + 1e-9);
        }
      }),
    );
  });

  it("wants ascending abscissae", () => {
    expect(() => new MonotoneCubic(Float64Array.of(0, 0), Float64Array.of(1, 2))).toThrow("ascending");
    expect(() => new MonotoneCubic(Float64Array.of(0), Float64Array.of(1))).toThrow("at least 2");
  });
});
