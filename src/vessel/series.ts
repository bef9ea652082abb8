/** Vapour through the warm-up: columns at each kept minute, so that a forecast can be made for any of them. */
import type { GridSize } from "./api.ts";
import { solveBalancedVapour } from "./balanced.ts";
import { beamColumns } from "./columns.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { COARSE_GRID } from "./grid.ts";
import type { WarmUp } from "./warm-up.ts";

/** Arrays of one length, one entry per kept shell. */
export interface VapourSeries {
  /** m⁻² */
  readonly columnDensity: Float64Array;
  /** m⁻³ */
  readonly columnGradient: Float64Array;
  /** m⁻³ */
  readonly gasColumnGradient: Float64Array;
  /** Pa */
  readonly pressure: Float64Array;
  readonly fields: readonly VapourField[];
}

/**
 * Solves the vapour of a tube for every shell that a warm-up kept, on a beam `height` m above the axis. The vapour
 * follows the wall at once: diffusion across a bore takes seconds at tens of millibars, the wall minutes.
 */
export function vapourSeries(
  tube: TubeInput,
  run: WarmUp,
  height = 0,
  grid: GridSize = COARSE_GRID,
): VapourSeries {
  const n = run.kept.length;
  const out = {
    columnDensity: new Float64Array(n),
    columnGradient: new Float64Array(n),
    gasColumnGradient: new Float64Array(n),
    pressure: new Float64Array(n),
  };
  const fields: VapourField[] = [];
  const heights = Float64Array.of(height);
  run.kept.forEach((shell, i) => {
    const field = solveBalancedVapour(tube, shell, grid, fields[i - 1]);
    const columns = beamColumns(field, heights);
    out.columnDensity[i] = columns.columnDensity[0];
    out.columnGradient[i] = columns.columnGradient[0];
    out.gasColumnGradient[i] = columns.gasColumnGradient[0];
    out.pressure[i] = field.pressure;
    fields.push(field);
  });
  return { ...out, fields };
}
