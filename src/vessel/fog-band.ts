/** The band that fog opens: columns between linear diffusion and vapour held at saturation by drops. */
import gases from "../../data/gases.json" with { type: "json" };
import type { BeamColumns } from "./api.ts";
import { beamColumns } from "./columns.ts";
import type { VapourField } from "./field.ts";

/** "none": too little supersaturation; "possible": above 2; "likely": above 5 at the beam's height at mid-length. */
export type FogChance = "none" | "possible" | "likely";

/** Two ends of a quantity, low ≤ high; arrays over the beam's heights. */
export interface BandArrays {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

export interface FogBand {
  /** columns if fog held the vapour at saturation */
  readonly saturated: BeamColumns;
  /** m⁻² */
  readonly columnDensity: BandArrays;
  /** m⁻³, with its sign: low is the more negative */
  readonly columnGradient: BandArrays;
  readonly chance: FogChance;
}

/** Whether fog is to be expected at this supersaturation; limits in data/gases.json (common practice). */
export function fogChance(supersaturation: number): FogChance {
  if (supersaturation > gases.limits.fog_warn.value) return "likely";
  return supersaturation > gases.limits.fog_possible.value ? "possible" : "none";
}

/** The gradient of a layer whose upper end falls from column `c` to the saturated one. */
function steepened(gradient: number, c: number, dense: number, saturated: number): number {
  return dense > c ? (gradient * (dense - saturated)) / (dense - c) : gradient;
}

/**
 * Band of the columns at the heights of `linear`, the columns of linear diffusion. The density lies between saturation
 * and linear diffusion. The gradient need not: fog that stands only above the beam steepens the layers below it, at most
 * to |G| = |G_lin| (C_wall − C_sat)/(C_wall − C_lin), C_wall the column along the dense wall; the band reaches to there.
 * Where part of the wall is dry the vapour along it is not held, and the steepest slope is the one from the wet wall below to
 * saturation on the beam. Checked against `fogLayer` (docs/fog.md): its density lies in the band at every threshold tried, its gradient within
 * 1 %. `supersaturation` is the one at mid-length on the beam.
 */
export function fogBand(field: VapourField, linear: BeamColumns, supersaturation: number): FogBand {
  const { heights } = linear;
  const saturated = beamColumns(field, heights, { fog: "saturated" });
  const edge = field.grid.radius * (1 - 1e-6);
  const wall = beamColumns(field, Float64Array.of(-edge, edge)).columnDensity;
  const n = heights.length;
  const make = (): BandArrays => ({ low: new Float64Array(n), high: new Float64Array(n) });
  const columnDensity = make();
  const columnGradient = make();
  for (let i = 0; i < n; i++) {
    const c = linear.columnDensity[i];
    const g = linear.columnGradient[i];
    columnDensity.low[i] = Math.min(c, saturated.columnDensity[i]);
    columnDensity.high[i] = Math.max(c, saturated.columnDensity[i]);
    const steepest =
      field.wet === undefined
        ? steepened(g, c, Math.max(wall[0], wall[1]), saturated.columnDensity[i])
        : (saturated.columnDensity[i] - wall[0]) / (heights[i] + edge);
    columnGradient.low[i] = Math.min(g, saturated.columnGradient[i], steepest);
    columnGradient.high[i] = Math.max(g, saturated.columnGradient[i], steepest);
  }
  return { saturated, columnDensity, columnGradient, chance: fogChance(supersaturation) };
}
