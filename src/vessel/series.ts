/** Vapour through the warm-up: columns at each kept minute, so that a forecast can be made for any of them. */
import type { GridSize } from "./api.ts";
import { solveBalancedVapour, wallReadings } from "./balanced.ts";
import { beamColumns, midLengthSpline } from "./columns.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { COARSE_GRID } from "./grid.ts";
import type { WarmUp } from "./warm-up.ts";

/** Arrays of one length, one entry per kept shell. */
export interface VapourSeries {
  /** s, when each shell was kept */
  readonly time: Float64Array;
  /** bottom, top and ends of each shell, K */
  readonly bottom: Float64Array;
  readonly top: Float64Array;
  readonly ends: Float64Array;
  /** warmest outlet of a liquid, K; the room's temperature where there is none */
  readonly outlet: Float64Array;
  /** W into the wall */
  readonly heater: Float64Array;
  /** atoms at mid-length on the beam, m⁻³ */
  readonly density: Float64Array;
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
    time: run.keptAt.slice(),
    bottom: new Float64Array(n),
    top: new Float64Array(n),
    ends: new Float64Array(n),
    outlet: new Float64Array(n),
    heater: new Float64Array(n),
    density: new Float64Array(n),
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
    const read = wallReadings(shell);
    out.bottom[i] = read.bottom;
    out.top[i] = read.top;
    out.ends[i] = read.ends;
    out.outlet[i] = outletOf(run, run.keptAt[i]);
    out.heater[i] = shell.balance.heater;
    out.density[i] = Math.max(0, midLengthSpline(field, field.density, field.wallDensity).value(height));
    out.columnDensity[i] = columns.columnDensity[0];
    out.columnGradient[i] = columns.columnGradient[0];
    out.gasColumnGradient[i] = columns.gasColumnGradient[0];
    out.pressure[i] = field.pressure;
    fields.push(field);
  });
  return { ...out, fields };
}

/** Warmest outlet at the last step up to a time. */
function outletOf({ time, outlet }: WarmUp, at: number): number {
  let i = time.length - 1;
  while (i > 0 && time[i] > at) i--;
  return outlet[i];
}

/**
 * The series as text, one row per kept shell: time_s, heater_W, bottom_K, top_K, ends_K, outlet_K, pressure_Pa,
 * density_m-3, column_density_m-2, column_gradient_m-3, gas_column_gradient_m-3.
 */
export function warmUpCsv(series: VapourSeries): string {
  const columns: readonly (readonly [string, Float64Array])[] = [
    ["time_s", series.time],
    ["heater_W", series.heater],
    ["bottom_K", series.bottom],
    ["top_K", series.top],
    ["ends_K", series.ends],
    ["outlet_K", series.outlet],
    ["pressure_Pa", series.pressure],
    ["density_m-3", series.density],
    ["column_density_m-2", series.columnDensity],
    ["column_gradient_m-3", series.columnGradient],
    ["gas_column_gradient_m-3", series.gasColumnGradient],
  ];
  const rows = Array.from(series.time, (_, i) =>
    columns.map(([, values]) => String(Number(values[i].toPrecision(8)))).join(","),
  );
  return `${[columns.map(([name]) => name).join(","), ...rows].join("\n")}\n`;
}
