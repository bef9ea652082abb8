/** Values along the plumb line through the axis: sectors 0 (straight down) and angular/2 (straight up). */
import { CubicSpline } from "../numerics/cubic-spline.ts";
import type { PolarGrid } from "../numerics/polar-grid.ts";

/** Heights of the nodes on the plumb line, m, from wall to wall: both walls and every ring twice, 2·radial + 2. */
export function plumbHeights(grid: PolarGrid): Float64Array {
  const { radial, radius } = grid;
  const h = radius / radial;
  const y = new Float64Array(2 * radial + 2);
  y[0] = -radius;
  y[2 * radial + 1] = radius;
  for (let i = 0; i < radial; i++) {
    y[radial - i] = -(i + 0.5) * h;
    y[radial + 1 + i] = (i + 0.5) * h;
  }
  return y;
}

/** Copies a cell array's values in slice k onto the plumb line's nodes; wall array for the two outermost. */
export function plumbValues(
  grid: PolarGrid,
  k: number,
  cells: Float64Array,
  wall: Float64Array,
  out: Float64Array,
): void {
  const { radial, angular } = grid;
  const down = k * angular * radial;
  const up = (k * angular + angular / 2) * radial;
  out[0] = wall[k * angular];
  out[2 * radial + 1] = wall[k * angular + angular / 2];
  for (let i = 0; i < radial; i++) {
    out[radial - i] = cells[down + i];
    out[radial + 1 + i] = cells[up + i];
  }
}

/** Spline over the plumb line of values averaged over the two slices next to mid-length. */
export function midLengthSpline(grid: PolarGrid, cells: Float64Array, wall: Float64Array): CubicSpline {
  const y = plumbHeights(grid);
  const a = new Float64Array(y.length);
  const b = new Float64Array(y.length);
  const middle = grid.axial >> 1;
  plumbValues(grid, middle, cells, wall, a);
  plumbValues(grid, grid.axial - 1 - middle, cells, wall, b);
  for (let i = 0; i < y.length; i++) a[i] = 0.5 * (a[i] + b[i]);
  return new CubicSpline(y, a);
}
