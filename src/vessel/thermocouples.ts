/** A wall from thermocouples at named places, interpolated over the shell in angle and length. */
import { pow } from "../numerics/elementary/index.ts";
import { type PolarGrid, sectorAngle, sliceCentre } from "../numerics/polar-grid.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { GridSize } from "./api.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { DEFAULT_GRID, gridSize, tubeGrid } from "./grid.ts";
import type { ShellMap } from "./shell-api.ts";
import { solveTube } from "./solve-tube.ts";
import type { WallMap } from "./wall.ts";

export interface Thermocouple {
  readonly name: string;
  /** angle around the axis from straight down, toward +x, rad */
  readonly angle: number;
  /** along the tube from its middle, m */
  readonly z: number;
  /** K */
  readonly temperature: number;
}

/**
 * Temperatures of a grid's wall faces from thermocouples: mean with weights 1/d⁴, d the distance over the unrolled wall
 * (arc and length, both in metres). Exact at each thermocouple, never beyond the coldest and the hottest, level near
 * each; windows as warm as the wall beside them. Refuses fewer than two.
 */
export function thermocoupleWall(points: readonly Thermocouple[], grid: PolarGrid): WallMap {
  if (points.length < 2) {
    throw new Refusal({
      code: "too-few-thermocouples",
      field: "vessel.thermocouples",
      received: String(points.length),
      expected: "at least two thermocouples",
    });
  }
  for (const point of points) {
    if (!(point.temperature >= 50 && point.temperature <= 3000) || !Number.isFinite(point.angle + point.z)) {
      throw new Refusal({
        code: "out-of-range",
        field: `vessel.thermocouples.${point.name}`,
        received: `${point.temperature} K at ${point.angle} rad, ${point.z} m`,
        expected: "a temperature from 50 K to 3000 K at a finite place",
      });
    }
  }
  const { angular, axial, radius } = grid;
  const temperature = new Float64Array(angular * axial);
  let window = 0;
  for (let k = 0; k < axial; k++) {
    const z = sliceCentre(grid, k);
    for (let j = 0; j < angular; j++) {
      const angle = sectorAngle(grid, j) + 0.5 * Math.PI;
      let sum = 0;
      let weights = 0;
      for (const point of points) {
        const turn = Math.abs(angle - point.angle) % (2 * Math.PI);
        const arc = radius * Math.min(turn, 2 * Math.PI - turn);
        const square = arc * arc + pow(z - point.z, 2);
        const weight = 1 / (square * square + 1e-24);
        sum += weight * point.temperature;
        weights += weight;
      }
      temperature[k * angular + j] = sum / weights;
      if (k === 0 || k === axial - 1) window += sum / weights / (2 * angular);
    }
  }
  return { count: 1, temperature, share: new Float64Array(temperature.length).fill(1), window };
}

/** Sectors and slices of a map made of thermocouples. */
const MAP_SIZE = { radial: 4, angular: 32, axial: 48 } as const;

/** The wall between thermocouples as a map that a vessel carries, by `thermocoupleWall`. */
export function thermocoupleMap(
  points: readonly Thermocouple[],
  tube: Pick<TubeInput, "bore" | "heatedLength" | "length">,
): ShellMap {
  const grid = tubeGrid(tube, MAP_SIZE);
  const { temperature } = thermocoupleWall(points, grid);
  return { angular: grid.angular, axial: grid.axial, zFaces: grid.zFaces, temperature };
}

/** As `solveVapour`, the wall interpolated between thermocouples. */
export function solveThermocoupleVapour(
  tube: TubeInput,
  points: readonly Thermocouple[],
  wish: GridSize = DEFAULT_GRID,
  previous?: VapourField,
): VapourField {
  const grid = tubeGrid(tube, gridSize(wish));
  return solveTube(tube, grid, grid, thermocoupleWall(points, grid), previous);
}
