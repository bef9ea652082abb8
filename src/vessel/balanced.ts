/** The vapour of a tube whose wall follows from a balance of heat, steady or at any minute of the warm-up. */
import { type PolarGrid, sectorAngle, sliceCentre } from "../numerics/polar-grid.ts";
import type { GridSize } from "./api.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { DEFAULT_GRID, gridSize, tubeGrid } from "./grid.ts";
import type { ShellState } from "./shell-api.ts";
import { solveTube } from "./solve.ts";
import type { WallMap } from "./wall.ts";

/** A shell's temperatures on the faces of a grid: linear between the middles of its faces in angle and length. */
export function shellWall(state: ShellState, grid: PolarGrid): WallMap {
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
  shell: ShellState,
  wish: GridSize = DEFAULT_GRID,
  previous?: VapourField,
): VapourField {
  const grid = tubeGrid(tube, gridSize(wish));
  return solveTube(tube, grid, grid, shellWall(shell, grid), previous);
}
