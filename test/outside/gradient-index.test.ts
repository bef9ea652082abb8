/**
 * Rays through media of known answer. Figures as in published/checks.json, topic "gradient index", each of them a closed form:
 *  - Luneburg's sphere: R. K. Luneburg, "Mathematical Theory of Optics" (1944), from memory; that n = sqrt(2 - r²) brings a plane wave to one point of the far surface stands in
 *    W. T. Welford and R. Winston, "Nonimaging Optics", appendix F, "The Luneburg lens" (oreilly.com, contents seen).
 *  - Rod: E. W. Marchand, "Gradient Index Optics" (1978), from memory; a worked example of a rod lens at feteco.com ("GRIN Lens", its equations 5.23 to 5.26), seen.
 *  - Fish-eye and wedge: Born & Wolf, "Principles of Optics", from memory; that all rays of the fish-eye are circles and every point P has an image P′ with OP · OP′ = R²: H. Rosu and M. Reyes, Nuovo Cimento D 16, 517 (1994), arXiv:atom-ph/9604006 (seen), after the same book.
 */
import { describe, expect, it } from "vitest";
import { type IndexMedium, traceRay } from "../../src/path/index.ts";

/** A medium from n²(x, y, z) and its half gradient. */
function medium(
  n2: (x: number, y: number, z: number) => number,
  half: (x: number, y: number, z: number) => [number, number, number],
): IndexMedium {
  return {
    excess(at, slope) {
      slope.set(half(at[0], at[1], at[2]));
      return n2(at[0], at[1], at[2]) - 1;
    },
  };
}

describe("rays in gradient-index media", () => {
  it("Luneburg's sphere n² = 2 − r² brings a parallel ray to the rear pole", () => {
    const sphere = medium(
      (x, y, z) => 2 - (x * x + y * y + z * z),
      (x, y, z) => [-x, -y, -z],
    );
    for (const height of [0.1, 0.5, 0.9]) {
      const z = -Math.sqrt(1 - height * height);
      const end = traceRay(
        sphere,
        { place: [0, height, z + 1e-9], direction: [0, 0, 1] },
        { inside: (x, y, w) => 1 - Math.hypot(x, y, w), longestStep: 0.1 },
      );
      expect(end.place[1]).toBeCloseTo(0, 6);
      expect(end.place[2]).toBeCloseTo(1, 6);
      expect(end.direction[1]).toBeCloseTo(-height, 6);
    }
  });

  it("a rod n² = n0²(1 − g²r²) gives amplitude sin θ/g and period 2π cos θ/g: 0.66223 mm and 20.52647 mm", () => {
    const g = 300;
    const rod = medium(
      (x, y) => 1.6 ** 2 * (1 - g * g * (x * x + y * y)),
      (x, y) => [-(1.6 ** 2) * g * g * x, -(1.6 ** 2) * g * g * y, 0],
    );
    let highest = 0;
    const start = { place: [0, 0, 0], direction: [0, Math.sin(0.2), Math.cos(0.2)] };
    const period = 20.52647e-3;
    const end = traceRay(rod, start, {
      inside: (_x, _y, z) => period - z,
      longestStep: 1e-4,
      onStep: (s) => (highest = Math.max(highest, s[1])),
    });
    expect(Math.abs(highest - 0.66223e-3)).toBeLessThan(2e-7);
    expect(Math.abs(end.place[1])).toBeLessThan(2e-9);
    expect(end.direction[1]).toBeCloseTo(Math.sin(0.2), 6);
    // Paraxial quarter pitch π/(2g) = 5.23599 mm: a weak parallel ray crosses the axis there.
    const quarter = traceRay(
      rod,
      { place: [0, 1e-6, 0], direction: [0, 0, 1] },
      { inside: (_x, _y, z) => 5.23599e-3 - z, longestStep: 1e-4, placeError: 1e-13 },
    );
    expect(Math.abs(quarter.place[1])).toBeLessThan(1e-10);
  });

  it("a rod lens of N0 = 1.5834, gradient constant 0.1067 mm⁻² and 4 mm length has a focal length of 2 mm and its focus 0.52 mm behind it (feteco.com, worked example)", () => {
    // N = N0(1 - k r²/2); the program's media are given by n². Air behind the plane end: angles grow N-fold there.
    const [n0, k] = [1.5834, 0.1067e6];
    const index = (r2: number): number => n0 * (1 - (k * r2) / 2);
    const rod = medium(
      (x, y) => index(x * x + y * y) ** 2,
      (x, y) => {
        const f = -index(x * x + y * y) * n0 * k;
        return [f * x, f * y, 0];
      },
    );
    const height = 1e-5;
    const end = traceRay(
      rod,
      { place: [0, height, 0], direction: [0, 0, 1] },
      { inside: (_x, _y, z) => 4e-3 - z, longestStep: 1e-4, placeError: 1e-13, directionError: 1e-13 },
    );
    const slope = index(end.place[1] ** 2) * end.direction[1];
    expect((height / -slope) * 1e3).toBeCloseTo(2, 2);
    expect((end.place[1] / -slope) * 1e3).toBeCloseTo(0.52, 2);
  });

  it("Maxwell's fish-eye images (1, 0) on (−1, 0) for every ray", () => {
    const eye = medium(
      (x, y, z) => (2 / (1 + x * x + y * y + z * z)) ** 2,
      (x, y, z) => {
        const r = 1 + x * x + y * y + z * z;
        const f = -8 / r ** 3;
        return [f * x, f * y, f * z];
      },
    );
    for (const angle of [0.4, 1.2, 2]) {
      let nearest = Infinity;
      traceRay(
        eye,
        { place: [1, 0, 0], direction: [Math.cos(angle), Math.sin(angle), 0] },
        {
          inside: (x, y) => (y < 0 ? -1 : 10 - Math.hypot(x, y)),
          longestStep: 0.01,
          onStep: (s) => (nearest = Math.min(nearest, Math.hypot(s[0] + 1, s[1]))),
        },
      );
      expect(nearest).toBeLessThan(1e-6);
    }
  });

  it("n² = n0² + a·y bends a level ray into y = a z²/(4 n0²): 2.4985e-5 m after 1 m", () => {
    const wedge = medium(
      (_x, y) => 1.0003 ** 2 + 1e-4 * y,
      () => [0, 0.5e-4, 0],
    );
    const end = traceRay(
      wedge,
      { place: [0, 0, 0], direction: [0, 0, 1] },
      { inside: (_x, _y, z) => 1 - z, placeError: 1e-13, directionError: 1e-13 },
    );
    expect(Math.abs(end.place[1] / 2.4985e-5 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(end.place[1] / (1e-4 / (4 * 1.0003 ** 2)) - 1)).toBeLessThan(1e-8);
  });

  it("a gas column of 0.2 m with dn/dy = −0.001 /m deflects by −2e-4 rad", () => {
    const gas = medium(
      (_x, y) => (1 - 0.001 * y) ** 2,
      (_x, y) => [0, -0.001 * (1 - 0.001 * y), 0],
    );
    const end = traceRay(gas, { place: [0, 0, 0], direction: [0, 0, 1] }, { inside: (_x, _y, z) => 0.2 - z });
    expect(Math.abs(Math.atan2(end.direction[1], end.direction[2]) / -2e-4 - 1)).toBeLessThan(1e-6);
  });

  it("says so where a medium keeps its ray", () => {
    const trap = medium(
      (x, y, z) => 4 - (x * x + y * y + z * z),
      (x, y, z) => [-x, -y, -z],
    );
    expect(() =>
      traceRay(trap, { place: [0, 0.1, 0], direction: [0, 0, 1] }, { inside: () => 1, longestStep: 1 }),
    ).toThrow(/still inside/);
  });
});
