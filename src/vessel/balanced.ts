/** The vapour of a tube whose wall follows from a balance of heat, steady or at any minute of the warm-up. */
import { type PolarGrid, sectorAngle, sliceCentre } from "../numerics/polar-grid.ts";
import type { GridSize } from "./api.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { DEFAULT_GRID, gridSize, tubeGrid } from "./grid.ts";
import type { ShellMap } from "./shell-api.ts";
import { solveTube } from "./solve-tube.ts";
import type { WallMap } from "./wall.ts";

/** A shell's temperatures on the faces of a grid: linear between the middles of its faces in angle and length. */
export function shellWall(state: ShellMap, grid: PolarGrid): WallMap {
  const { angular, axial, zFaces, temperature } = state;
  const out = new Float64Array(grid.angular * grid.axial);
  const centre = (k: number): number => 0.5 * (zFaces[k] + zFaces[k + 1]);
  let window = 0;
  for (let j = 0; j < angular; j++)
    window += (temperature[j] + temperature[(axial - 1) * angular + j]) / (2 * angular);
  for (let k = 0; k < grid.axial; k++) {
    const z = sliceCentre(grid, k);
    let a = 0;
    while (a < axial - 2 && centre(a + 1) <= z) a++;
    const w = Math.min(1, Math.max(0, (z - centre(a)) / (centre(a + 1) - centre(a))));
    for (let j = 0; j < grid.angular; j++) {
      const position = ((sectorAngle(grid, j) + 0.5 * Math.PI) / (2 * Math.PI)) * angular;
      const j0 = Math.floor(position);
      const v = position - j0;
      const value = (kk: number, jj: number): number => temperature[kk * angular + (jj % angular)];
      out[k * grid.angular + j] =
        (1 - w) * ((1 - v) * value(a, j0) + v * value(a, j0 + 1)) +
        w * ((1 - v) * value(a + 1, j0) + v * value(a + 1, j0 + 1));
    }
  }
  return { count: 1, temperature: out, share: new Float64Array(out.length).fill(1), window };
}

/** As `solveVapour`, the wall taken from a shell of the same bore and lengths; the windows as warm as the last slices. */
export function solveBalancedVapour(
  tube: TubeInput,
  shell: ShellMap,
  wish: GridSize = DEFAULT_GRID,
  previous?: VapourField,
  tolerance?: number,
): VapourField {
  const grid = tubeGrid(tube, gridSize(wish));
  return solveTube(tube, grid, grid, shellWall(shell, grid), previous, tolerance);
}

/** What thermocouples at three places would read, K. */
export interface WallReadings {
  readonly bottom: number;
  readonly top: number;
  readonly ends: number;
}

/** Bottom and top at mid-length, and the mean of the outermost slice, which the windows share. */
export function wallReadings(state: ShellMap): WallReadings {
  const { angular, axial, temperature } = state;
  const middle = (axial >> 1) * angular;
  let ends = 0;
  for (let j = 0; j < angular; j++) ends += temperature[j] / angular;
  return { bottom: temperature[middle], top: temperature[middle + (angular >> 1)], ends };
}

/**
 * The shell with its temperatures moved so that its readings become the ones given: linear between the readings,
 * shifted beyond them. For questions of the kind "and if the bottom were 2 K warmer"; its balance of heat is not
 * touched. Where two readings agree within a millikelvin the colder one is left out.
 */
export function movedShell<T extends ShellMap>(state: T, to: WallReadings): T {
  const from = wallReadings(state);
  if (from.bottom === to.bottom && from.top === to.top && from.ends === to.ends) return state;
  const knots: [number, number][] = [];
  const pairs: [number, number][] = [
    [from.bottom, to.bottom],
    [from.top, to.top],
    [from.ends, to.ends],
  ];
  for (const pair of pairs) if (knots.every(([t]) => Math.abs(t - pair[0]) > 1e-3)) knots.push(pair);
  knots.sort((a, b) => a[0] - b[0]);
  const last = knots.length - 1;
  const move = (t: number): number => {
    if (t <= knots[0][0]) return t + knots[0][1] - knots[0][0];
    for (let i = 1; i <= last; i++) {
      const [a, at] = knots[i - 1];
      const [b, bt] = knots[i];
      if (t <= b) return at + ((bt - at) * (t - a)) / (b - a);
    }
    return t + knots[last][1] - knots[last][0];
  };
  return { ...state, temperature: state.temperature.map(move) };
}
