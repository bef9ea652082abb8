/** What the light meets along the beam: columns of atoms and their gradients. */
import { atan2, exp, hypot, log } from "../numerics/elementary/index.ts";
import type { PolarGrid } from "../numerics/polar-grid.ts";
import { CubicSpline } from "../numerics/cubic-spline.ts";
import { Refusal } from "../quantity/refusal.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { BeamColumns } from "./api.ts";
import type { VapourField } from "./field.ts";
import { statedColumns } from "./contents.ts";
import { chordValues, plumbChord } from "./chord.ts";
import { saturationPressure } from "../medium/pressure.ts";

export interface ColumnOptions {
  /** distance of the rays' plane from the axis, m, default 0 */
  readonly x?: number;
  /** "none": linear diffusion; "saturated": fog holds the vapour at saturation wherever it would exceed it */
  readonly fog?: "none" | "saturated";
}

/**
 * Columns along straight rays from window to window in the plane x = 0 (or at `x`), at heights in m above the axis:
 * ∫N dz, ∫∂N/∂y dz, ∫∂N_gas/∂y dz with N_gas = (1 − x) p/(kT), ∫N²dz/∫N dz, ∫NT dz/∫N dz, and the largest p_metal/p_sat(T).
 *
 * Integrated slice by slice, then smoothed over height by a cubic spline through every ring from wall to wall, so that
 * columns, gradients and their slopes are smooth in height; the gradient is the spline's slope. On the default grid
 * within 0.5 % of the half-hot tube's closed form for |y| < 0.6 of the radius. With `fog: "saturated"` N is the lesser
 * of the solved density and the saturated one at the gas's temperature: the other end of the bracket that fog opens;
 * its supersaturation is 1. Refuses points outside the bore.
 */
export function beamColumns(
  field: VapourField,
  heights: Float64Array,
  options: ColumnOptions = {},
): BeamColumns {
  const { grid } = field;
  const x = options.x ?? 0;
  const saturated = options.fog === "saturated";
  for (const height of heights) checkHeight(hypot(x, height), grid.radius);
  if (field.input.contents !== undefined) return statedColumns(field.input, field.input.contents, heights);
  const chord = plumbChord(grid, x);
  const y = chord.y;
  const n = y.length;
  const below = wallSector(grid, x, y[0]);
  const above = wallSector(grid, x, y[n - 1]);
  const sums = {
    n: new Float64Array(n),
    gas: new Float64Array(n),
    n2: new Float64Array(n),
    nt: new Float64Array(n),
  };
  const fog = new Float64Array(n);
  const density = new Float64Array(n);
  const temperature = new Float64Array(n);
  const fraction = new Float64Array(n);
  for (let k = 0; k < grid.axial; k++) {
    const dz = grid.zFaces[k + 1] - grid.zFaces[k];
    chordValues(grid, chord, k, field.density, field.wallDensity, density);
    chordValues(grid, chord, k, field.gasTemperature, field.wallTemperature, temperature);
    chordValues(grid, chord, k, field.moleFraction, field.wallMoleFraction, fraction);
    for (let i = 0; i < n; i++) {
      const t = temperature[i];
      // On the wet wall itself metal and vapour are in balance: 1.
      const s =
        (i === 0 && isWet(field, k, below)) || (i === n - 1 && isWet(field, k, above))
          ? 1
          : supersaturationAt(field, fraction[i], t);
      const share = saturated && s > 1 ? 1 / s : 1;
      const atoms = density[i] * share;
      sums.n[i] += atoms * dz;
      sums.gas[i] += (((1 - fraction[i] * share) * field.pressure) / (BOLTZMANN * t)) * dz;
      sums.n2[i] += atoms * atoms * dz;
      sums.nt[i] += atoms * t * dz;
      fog[i] = Math.max(fog[i], s * share);
    }
  }
  const splines = {
    n: new CubicSpline(y, sums.n),
    gas: new CubicSpline(y, sums.gas),
    n2: new CubicSpline(y, sums.n2),
    nt: new CubicSpline(y, sums.nt),
  };
  const m = heights.length;
  const out = {
    heights: heights.slice(),
    columnDensity: new Float64Array(m),
    columnGradient: new Float64Array(m),
    gasColumnGradient: new Float64Array(m),
    effectiveDensity: new Float64Array(m),
    effectiveTemperature: new Float64Array(m),
    supersaturation: new Float64Array(m),
  };
  for (let q = 0; q < m; q++) {
    const at = heights[q];
    const column = splines.n.value(at);
    out.columnDensity[q] = column;
    out.columnGradient[q] = splines.n.derivative(at);
    out.gasColumnGradient[q] = splines.gas.derivative(at);
    out.effectiveDensity[q] = column > 0 ? splines.n2.value(at) / column : 0;
    out.effectiveTemperature[q] = column > 0 ? splines.nt.value(at) / column : field.wall.window;
    out.supersaturation[q] = logInterpolated(y, fog, at);
  }
  return out;
}

/** The sector whose wall a point of the wall belongs to. */
function wallSector({ angular }: PolarGrid, x: number, y: number): number {
  return Math.round((atan2(y, x) / (2 * Math.PI) + 1.25) * angular) % angular;
}

/** True where the whole wall face is wet. */
function isWet({ wet, grid }: VapourField, k: number, j: number): boolean {
  return wet === undefined || wet[k * grid.angular + j] === 1;
}

/** p_metal/p_sat at the gas's own temperature, 1. */
export function supersaturationAt(field: VapourField, fraction: number, temperature: number): number {
  if (fraction === 0) return 0;
  const { input, pressure } = field;
  return (fraction * pressure) / saturationPressure(input.element, temperature, input.pressureEquation);
}

export function checkHeight(height: number, radius: number): void {
  if (Math.abs(height) < radius) return;
  throw new Refusal({
    code: "beam-outside-bore",
    field: "path.beamHeight",
    received: `${height} m`,
    expected: `a height within the bore, less than ${radius} m from the axis`,
  });
}

/** Interpolates a positive quantity linearly in its logarithm: never beyond its neighbours, whatever its range. */
function logInterpolated(x: Float64Array, y: Float64Array, at: number): number {
  let i = 0;
  while (i < x.length - 2 && x[i + 1] <= at) i++;
  const t = (at - x[i]) / (x[i + 1] - x[i]);
  const tiny = Number.MIN_VALUE;
  return exp((1 - t) * log(Math.max(y[i], tiny)) + t * log(Math.max(y[i + 1], tiny)));
}

/** Spline over the plumb line through the axis of values averaged over the two slices next to mid-length. */
export function midLengthSpline(field: VapourField, cells: Float64Array, wall: Float64Array): CubicSpline {
  const { grid } = field;
  const chord = plumbChord(grid, 0);
  const a = new Float64Array(chord.y.length);
  const b = new Float64Array(chord.y.length);
  const middle = grid.axial >> 1;
  chordValues(grid, chord, middle, cells, wall, a);
  chordValues(grid, chord, grid.axial - 1 - middle, cells, wall, b);
  for (let i = 0; i < a.length; i++) a[i] = 0.5 * (a[i] + b[i]);
  return new CubicSpline(chord.y, a);
}
