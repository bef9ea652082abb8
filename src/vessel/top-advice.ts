/** Which top temperature bends the light fully without smoke, and whether air is enough to cool it. */
import gases from "../../data/gases.json" with { type: "json" };
import { Refusal } from "../quantity/refusal.ts";
import type { GridSize, VesselInput } from "./api.ts";
import { beamColumns } from "./columns.ts";
import type { VapourField } from "./field.ts";
import { COARSE_GRID } from "./grid.ts";
import { vesselNumbers } from "./numbers.ts";
import { solveVapour } from "./solve.ts";

/** One row: the tube with its top at that temperature. */
export interface TopRow {
  /** K */
  readonly top: number;
  /** column gradient as a share of the largest in the table, 1 */
  readonly share: number;
  /** m⁻³ */
  readonly columnGradient: number;
  /** at mid-length on the beam, m */
  readonly scaleHeight: number;
  /** p/p_sat(T) at mid-length on the beam, 1 */
  readonly supersaturation: number;
  /** density on the beam if fog held it at saturation, m⁻³ */
  readonly saturatedDensity: number;
  readonly density: number;
}

export interface TopAdvice {
  readonly rows: readonly TopRow[];
  /** warmest top that keeps 97 % of the largest gradient, K */
  readonly warmestTop: number;
  /** how much cooler than the metal that is, K */
  readonly difference: number;
  /** supersaturation on the beam there, 1, and whether it stays below the fog warning */
  readonly supersaturation: number;
  readonly clear: boolean;
  /** how sure this is, in one sentence */
  readonly confidence: string;
}

/** The share of the full gradient that the advice keeps. */
export const KEPT_SHARE = 0.97;

const DIFFERENCES = [5, 10, 20, 30, 40, 60, 80, 100, 125, 150, 200, 250];

/**
 * Solves the tube with its top from 5 K to 250 K below the metal (not under 250 K), and finds by bisection the warmest
 * top that keeps 97 % of the largest gradient among them. The largest is not at the coldest top: a cold top also
 * crowds the vapour above the axis, N = x p/(kT). A result of the diffusion model, without fog.
 */
export function topAdvice(input: VesselInput, height = 0, grid: GridSize = COARSE_GRID): TopAdvice {
  const { bottom } = input.wall;
  const heights = Float64Array.of(height);
  let field: VapourField | undefined;
  const row = (top: number): Omit<TopRow, "share"> => {
    field = solveVapour({ ...input, wall: { ...input.wall, top } }, grid, field);
    const numbers = vesselNumbers(field, height);
    return {
      top,
      columnGradient: beamColumns(field, heights).columnGradient[0],
      scaleHeight: numbers.scaleHeight,
      supersaturation: numbers.midSupersaturation,
      saturatedDensity: numbers.saturatedDensity,
      density: numbers.density,
    };
  };
  const found = DIFFERENCES.filter((d) => bottom - d >= 250).map((d) => row(bottom - d));
  if (found.length === 0) {
    throw new Refusal({
      code: "out-of-range",
      field: "vessel.bottom",
      received: `${bottom} K`,
      expected: "a metal at 255 K or more",
    });
  }
  const full = found.reduce((best, each) => (each.columnGradient < best.columnGradient ? each : best));
  if (full.columnGradient >= 0) {
    throw new Refusal({
      code: "dry-top",
      field: "vessel.wetStrip",
      received: "a top that does not thin the vapour, however cold, because it is dry",
      expected: "a wall that is wet at the top as well",
    });
  }
  const rows = found.map((each) => ({ ...each, share: each.columnGradient / full.columnGradient }));
  let cold = full.top;
  let warm = bottom;
  while (warm - cold > 0.25) {
    const middle = 0.5 * (warm + cold);
    if (row(middle).columnGradient <= KEPT_SHARE * full.columnGradient) cold = middle;
    else warm = middle;
  }
  const best = row(cold);
  return {
    rows,
    warmestTop: cold,
    difference: bottom - cold,
    supersaturation: best.supersaturation,
    clear: best.supersaturation < gases.limits.fog_warn.value,
    confidence:
      "A result of linear diffusion with ideal wall temperatures and no fog; no published measurement of it is known here, so try the gentler top first and look.",
  };
}
