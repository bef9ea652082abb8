import { beforeAll, describe, expect, it } from "vitest";
import {
  beamColumns,
  COARSE_GRID,
  solveVapour,
  type VapourField,
  type VesselInput,
} from "../vessel/index.ts";
import { bendingCheck } from "./bending-check.ts";
import { vapourMedium } from "./vapour-medium.ts";

const vessel: VesselInput = {
  element: "K",
  bore: 0.04,
  heatedLength: 0.15,
  length: 0.4,
  wall: { kind: "measured", bottom: 560, top: 400, ends: 330, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 1000,
};
let field: VapourField;
beforeAll(() => {
  field = solveVapour(vessel, COARSE_GRID);
});

describe("vapourMedium", () => {
  it("gives densities of the field and slopes that are their differences", () => {
    const medium = vapourMedium(field).at(1e-25, 0);
    const slope = new Float64Array(3);
    const scratch = new Float64Array(3);
    for (const place of [
      [0.0003, 0.0002, 0.0007],
      [0.004, -0.006, 0.02],
      [-0.0103, 0.0092, -0.051],
    ]) {
      medium.excess(new Float64Array(place), slope);
      for (let i = 0; i < 3; i++) {
        const d = 1e-6;
        const [a, b] = [-d, d].map((shift) =>
          medium.excess(new Float64Array(place.map((v, j) => (i === j ? v + shift : v))), scratch),
        );
        expect(Math.abs((b - a) / (4 * d) - slope[i])).toBeLessThan(1e-5 * Math.hypot(...slope) + 1e-12);
      }
    }
  });
});

describe("bendingCheck", () => {
  const heights = new Float64Array([-0.003, 0, 0.003]);
  it("agrees with κ·G where the bending is weak", () => {
    const columns = beamColumns(field, heights);
    const check = bendingCheck({
      field,
      columns,
      refractivities: [-1e-27, 1e-27],
      gasRefractivity: 1e-29,
      perRadian: 0.5,
      pixel: 5e-6,
    });
    for (const ray of check.rays) expect(Math.abs(ray.traced / ray.smallAngle - 1)).toBeLessThan(0.03);
    expect(check.findings).toEqual([]);
    expect(check.wallHits).toBe(0);
    // Dense below: a positive refractivity bends down.
    expect(check.rays[4].traced).toBeLessThan(0);
  });

  it("says when rays meet another gradient or the wall", () => {
    const columns = beamColumns(field, heights);
    const strong = bendingCheck({
      field,
      columns,
      refractivities: [1e-24],
      gasRefractivity: 0,
      perRadian: 0.5,
      pixel: 5e-6,
    });
    expect(strong.wallHits + (strong.worstPixels > 1 ? 1 : 0)).toBeGreaterThan(0);
    expect(strong.findings.length).toBeGreaterThan(0);
    const wall = bendingCheck({
      field,
      columns,
      refractivities: [1e-23],
      gasRefractivity: 0,
      perRadian: 0.5,
      pixel: 5e-6,
    });
    expect(wall.wallHits).toBe(3);
    expect(wall.findings.join(" ")).toMatch(/3 of 3 traced rays meet the wall/);
  });
});
