/** What the light meets along the beam: columns of atoms and their gradients. */
import { CubicSpline } from "../numerics/cubic-spline.ts";
import { Refusal } from "../quantity/refusal.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { BeamColumns } from "./api.ts";
import type { VapourField } from "./field.ts";
import { plumbHeights, plumbValues } from "./plumb-line.ts";
import { saturationPressure } from "../medium/pressure.ts";

/**
 * Columns along straight rays from window to window in the plane x = 0, at heights in m above the axis:
 * ∫N dz, ∫∂N/∂y dz, ∫∂N_gas/∂y dz with N_gas = (1 − x) p/(kT), ∫N²dz/∫N dz, ∫NT dz/∫N dz, and the largest p_metal/p_sat(T).
 *
 * Integrated slice by slice, then smoothed over height by a cubic spline through every ring from wall to wall, so that
 * columns, gradients and their slopes are smooth in height; the gradient is the spline's slope. On the default grid
 * within 0.5 % of the half-hot tube's closed form for |y| < 0.6 of the radius. Refuses heights outside the bore.
 */
export function beamColumns(field: VapourField, heights: Float64Array): BeamColumns {
  const { grid } = field;
  for (const height of heights) checkHeight(height, grid.radius);
  const y = plumbHeights(grid);
  const n = y.length;
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
    plumbValues(grid, k, field.density, field.wallDensity, density);
    plumbValues(grid, k, field.gasTemperature, field.wallTemperature, temperature);
    plumbValues(grid, k, field.moleFraction, field.wallMoleFraction, fraction);
    for (let i = 0; i < n; i++) {
      const t = temperature[i];
      sums.n[i] += density[i] * dz;
      sums.gas[i] += (((1 - fraction[i]) * field.pressure) / (BOLTZMANN * t)) * dz;
      sums.n2[i] += density[i] * density[i] * dz;
      sums.nt[i] += density[i] * t * dz;
      // On the wall itself metal and vapour are in balance: 1.
      const s = i === 0 || i === n - 1 ? 1 : supersaturationAt(field, fraction[i], t);
      if (s > fog[i]) fog[i] = s;
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

/** p_metal/p_sat at the gas's own temperature, 1. */
export function supersaturationAt(field: VapourField, fraction: number, temperature: number): number {
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
  return Math.exp((1 - t) * Math.log(Math.max(y[i], tiny)) + t * Math.log(Math.max(y[i + 1], tiny)));
}
