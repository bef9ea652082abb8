/** Gas temperature and vapour density of any vessel: a tube by its measured wall or its wall map, or stated contents. */
import type { GridSize, VesselInput } from "./api.ts";
import { movedShell, solveBalancedVapour } from "./balanced.ts";
import { checkVessel } from "./check.ts";
import { statedField } from "./contents.ts";
import type { VapourField } from "./field.ts";
import { DEFAULT_GRID, gridSize, tubeGrid } from "./grid.ts";
import { firstHalf } from "./mirror.ts";
import { solveTube } from "./solve-tube.ts";
import { measuredWall } from "./wall.ts";
import { wetIsMirrored } from "./wetness.ts";

/**
 * Solves a tube: gas temperature from ∇·(κ(T)∇T) = 0 (Kirchhoff's transform), vapour from ∇·(T^(m−1)∇ψ) = 0 with
 * ψ = −ln(1−x), x = p_sat(T_wall)/p on the wall where it is wet with metal (everywhere, or where `wet` says: see
 * `wetness`), and no flux through the dry wall and the windows; wall and windows hold the gas temperature. With `gasFilledAt` the amount of gas of the cold filling is kept over
 * the whole tube, cold ends included, and the hot pressure follows. How the wall changes from one measured temperature
 * to the next: see `measuredWall`; where the vessel carries a `map` (heater, thermocouples), that is the wall, moved so
 * that it reads as `wall` says. A vessel with `contents` (cell, flame) holds what is stated, nothing is solved.
 *
 * Where p_sat of the hottest wall reaches the pressure, the vapour displaces the gas (heat pipe): the field is the
 * limit with a millionth of gas left at that wall, `regime` says so, and nothing is infinite.
 *
 * Second order in the grid; T and ψ stay within their wall values. `wish` is rounded up to a size that can be halved;
 * `previous`, a field on a grid of the same size, is where the solver starts; `tolerance` is the relative residual at
 * which it stops (1e-5 is enough while a control is dragged). Throws Refusal for input that is no tube.
 */
export function solveVapour(
  input: VesselInput,
  wish: GridSize = DEFAULT_GRID,
  previous?: VapourField,
  tolerance?: number,
): VapourField {
  checkVessel(input);
  if (input.contents !== undefined) return statedField(input, input.contents, wish);
  if (input.map !== undefined)
    return solveBalancedVapour(input, movedShell(input.map, input.wall), wish, previous, tolerance);
  const grid = tubeGrid(input, gridSize(wish));
  const part = wetIsMirrored(input.wet) ? firstHalf(grid) : grid;
  return solveTube(input, grid, part, measuredWall(input, part), previous, tolerance);
}
