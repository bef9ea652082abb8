/** Gas temperature in the bore: conduction at rest, wall and windows held. */
import { PolarMultigrid } from "../numerics/multigrid.ts";
import { assemble } from "../numerics/polar-conductance.ts";
import { cellCount, type PolarGrid } from "../numerics/polar-grid.ts";
import { conductivity, type GasProperties } from "./gas.ts";
import { kirchhoffTable, temperaturesOf, thetaOf } from "./kirchhoff.ts";
import { solveOrRefuse } from "./solve-or-refuse.ts";
import { faceMeans, type WallMap, wallRange } from "./wall.ts";

export interface GasTemperature {
  /** K, cells */
  readonly cells: Float64Array;
  /** K, wall faces: the temperature whose heat potential is the mean over the face */
  readonly wall: Float64Array;
  /** heat potential θ in the cells, W/m */
  readonly potential: Float64Array;
  readonly cycles: number;
  readonly residual: number;
}

/**
 * ∇·(κ(T)∇T) = 0 by Kirchhoff's transform, so one linear solution whatever κ(T) is. `closed` says which ends are
 * planes of symmetry instead of windows; `start` is a potential to begin with.
 */
export function solveGasTemperature(
  grid: PolarGrid,
  wall: WallMap,
  gas: GasProperties,
  closed: readonly [boolean, boolean],
  tolerance: number,
  start?: Float64Array,
): GasTemperature {
  const [low, high] = wallRange(wall);
  const table = kirchhoffTable(low, high, (t) => conductivity(gas, t));
  const faces = grid.angular * grid.axial;
  const wallValue = new Float64Array(faces);
  faceMeans(wall, wallValue, (t) => thetaOf(table, t));
  const window = new Float64Array(grid.radial * grid.angular).fill(thetaOf(table, wall.window));
  const solver = new PolarMultigrid(grid, [!closed[0], !closed[1]]);
  assemble(solver.finest, grid, {
    wall: wallValue,
    ends: [closed[0] ? undefined : window, closed[1] ? undefined : window],
  });
  solver.prepare();
  if (start !== undefined) solver.solution.set(start.subarray(0, cellCount(grid)));
  const result = solveOrRefuse(solver, tolerance);
  const cells = new Float64Array(cellCount(grid));
  temperaturesOf(table, solver.solution, cells);
  const wallTemperature = new Float64Array(faces);
  temperaturesOf(table, wallValue, wallTemperature);
  return { cells, wall: wallTemperature, potential: solver.solution, ...result };
}
