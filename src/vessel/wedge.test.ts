import { describe, expect, it } from "vitest";
import { leastIncidence, throughWedge } from "./wedge.ts";

const RAD = Math.PI / 180;

type Point = readonly [number, number];

/** The same light followed face by face in the plane, by the vector form of Snell's law. */
function traced(
  apex: number,
  incidence: number,
  wall: number,
  liquid: number,
  glass: number,
  height: number,
) {
  // Inner faces meet in the origin; the bisector points down, face 1 on the left.
  const inner1: Point = [-Math.sin(apex / 2), -Math.cos(apex / 2)];
  const normal1: Point = [Math.cos(apex / 2), -Math.sin(apex / 2)];
  const normal2: Point = [Math.cos(apex / 2), Math.sin(apex / 2)];
  const bend = ([x, y]: Point, [nx, ny]: Point, ratio: number): Point => {
    const cosine = x * nx + y * ny;
    const after = Math.sqrt(1 - ratio * ratio * (1 - cosine * cosine));
    return [ratio * x + (after - ratio * cosine) * nx, ratio * y + (after - ratio * cosine) * ny];
  };
  // Incoming: turned from the first normal towards the edge.
  const c = Math.cos(incidence);
  const s = Math.sin(incidence);
  const start: Point = [c * normal1[0] - s * inner1[0], c * normal1[1] - s * inner1[1]];
  // A point of the ray that passes the edge at `height`, on the side away from it.
  const below: Point = [start[1], -start[0]];
  let at: Point = [height * below[0] - start[0], height * below[1] - start[1]];
  let way = start;
  const reach = (through: Point, normal: Point): number => {
    const t =
      ((through[0] - at[0]) * normal[0] + (through[1] - at[1]) * normal[1]) /
      (way[0] * normal[0] + way[1] * normal[1]);
    at = [at[0] + t * way[0], at[1] + t * way[1]];
    return t;
  };
  reach([-wall * normal1[0], -wall * normal1[1]], normal1);
  way = bend(way, normal1, 1 / glass);
  reach([0, 0], normal1);
  way = bend(way, normal1, glass / liquid);
  const path = reach([0, 0], normal2);
  way = bend(way, normal2, liquid / glass);
  reach([wall * normal2[0], wall * normal2[1]], normal2);
  way = bend(way, normal2, glass);
  const turned = Math.atan2(start[1], start[0]) - Math.atan2(way[1], way[0]);
  return { path, turned };
}

describe("a hollow wedge", () => {
  it("turns light as prisms do at least deviation: n = sin((A + δ)/2)/sin(A/2)", () => {
    for (const [apex, index] of [
      [60 * RAD, 1.333],
      [60 * RAD, 1.5],
      [8 * RAD, 1.361],
    ] as const) {
      const incidence = leastIncidence(apex, index);
      const { deviation } = throughWedge({ apex, incidence, wallThickness: 2e-3 }, index, 1.52)!;
      expect(Math.sin((apex + deviation) / 2) / Math.sin(apex / 2)).toBeCloseTo(index, 12);
      for (const turn of [-0.02, 0.02]) {
        const beside = throughWedge({ apex, incidence: incidence + turn, wallThickness: 0 }, index, 1.52)!;
        expect(beside.deviation).toBeGreaterThan(deviation);
      }
    }
  });

  it("gives deviation and way in the liquid as a ray followed face by face, walls included", () => {
    for (const [apex, incidence, wall, liquid] of [
      [8 * RAD, 5.35 * RAD, 2e-3, 1.336],
      [30 * RAD, 0, 1e-3, 1.36],
      [60 * RAD, 50 * RAD, 3e-3, 1.36],
      [20 * RAD, -6 * RAD, 2e-3, 1.47],
    ] as const) {
      const glass = 1.5168;
      const { deviation, pathAtEdge, pathPerDistance } = throughWedge(
        { apex, incidence, wallThickness: wall },
        liquid,
        glass,
      )!;
      const height = 4e-3;
      const { path, turned } = traced(apex, incidence, wall, liquid, glass, height);
      expect(deviation).toBeCloseTo(turned, 12);
      expect((pathAtEdge + pathPerDistance * height) / path).toBeCloseTo(1, 9);
    }
  });

  it("is a thin prism of (n − 1) A where the angle is small", () => {
    const apex = 1e-3;
    const { deviation } = throughWedge({ apex, incidence: 0, wallThickness: 0 }, 1.33, 1.5)!;
    expect(deviation / (0.33 * apex)).toBeCloseTo(1, 5);
  });

  it("lets nothing through beyond the angle of total reflection", () => {
    expect(throughWedge({ apex: 60 * RAD, incidence: 0, wallThickness: 0 }, 1.36, 1.5)).toBeUndefined();
  });
});
