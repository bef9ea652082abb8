/** Which thermocouple matters: how the column gradient answers to each temperature, pressure and length. */
import type { GridSize, VesselInput } from "./api.ts";
import { beamColumns } from "./columns.ts";
import { DEFAULT_GRID } from "./grid.ts";
import { solveVapour } from "./solve.ts";

/** What is varied. */
export type Lever = "bottom" | "top" | "ends" | "hotStrip" | "gasPressure" | "bore" | "heatedLength";

export interface Sensitivity {
  readonly lever: Lever;
  /** unit of the lever, UCUM */
  readonly unit: "K" | "rad" | "Pa" | "m";
  /** value at which the derivatives are taken */
  readonly value: number;
  /** ∂(column gradient)/∂lever, m⁻³ per unit */
  readonly gradient: number;
  /** ∂(column density)/∂lever, m⁻² per unit */
  readonly density: number;
  /** relative change of the column gradient per unit, 1/unit */
  readonly relativeGradient: number;
  /** |difference of forward and backward slopes| / |slope|: how far the answer is from a straight line, 1 */
  readonly curvature: number;
}

const LEVERS: readonly {
  readonly lever: Lever;
  readonly unit: Sensitivity["unit"];
  /** step of the differences, absolute in K and rad, relative else */
  readonly step: number;
  readonly relative: boolean;
}[] = [
  { lever: "bottom", unit: "K", step: 0.5, relative: false },
  { lever: "top", unit: "K", step: 0.5, relative: false },
  { lever: "ends", unit: "K", step: 0.5, relative: false },
  { lever: "hotStrip", unit: "rad", step: 0.01, relative: false },
  { lever: "gasPressure", unit: "Pa", step: 5e-3, relative: true },
  { lever: "bore", unit: "m", step: 5e-3, relative: true },
  { lever: "heatedLength", unit: "m", step: 5e-3, relative: true },
];

/**
 * Derivatives of the columns on a beam `height` m above the axis, by central differences of the solved tube, each
 * solution started from the unperturbed one. Solved to 1e-10, so that the differences carry the physics and not the
 * residual: good to about 0.1 % of themselves. The steps are small enough for a straight line; `curvature` says how
 * straight it was. With the bore the beam's height stays as it is; the vessel's length grows where the heated length
 * would exceed it.
 */
export function sensitivities(
  input: VesselInput,
  height = 0,
  grid: GridSize = DEFAULT_GRID,
): readonly Sensitivity[] {
  const base = solveVapour(input, grid, undefined, 1e-10);
  const heights = Float64Array.of(height);
  const at = (changed: VesselInput): { readonly gradient: number; readonly density: number } => {
    const columns = beamColumns(solveVapour(changed, grid, base, 1e-10), heights);
    return { gradient: columns.columnGradient[0], density: columns.columnDensity[0] };
  };
  const middle = beamColumns(base, heights);
  return LEVERS.map(({ lever, unit, step, relative }) => {
    const value = leverValue(input, lever);
    const h = relative
      ? step * value
      : Math.min(step, 0.25 * value, lever === "hotStrip" ? 0.25 * (2 * Math.PI - value) : step);
    const above = at(changedBy(input, lever, value + h));
    const below = at(changedBy(input, lever, value - h));
    const gradient = (above.gradient - below.gradient) / (2 * h);
    const forward = (above.gradient - middle.columnGradient[0]) / h;
    const backward = (middle.columnGradient[0] - below.gradient) / h;
    return {
      lever,
      unit,
      value,
      gradient,
      density: (above.density - below.density) / (2 * h),
      relativeGradient: gradient / middle.columnGradient[0],
      curvature: gradient === 0 ? 0 : Math.abs((forward - backward) / gradient),
    };
  });
}

function leverValue(input: VesselInput, lever: Lever): number {
  switch (lever) {
    case "bottom":
    case "top":
    case "ends":
    case "hotStrip":
      return input.wall[lever];
    case "gasPressure":
    case "bore":
    case "heatedLength":
      return input[lever];
  }
}

function changedBy(input: VesselInput, lever: Lever, value: number): VesselInput {
  switch (lever) {
    case "bottom":
    case "top":
    case "ends":
    case "hotStrip":
      return { ...input, wall: { ...input.wall, [lever]: value } };
    case "heatedLength":
      return { ...input, heatedLength: value, length: Math.max(input.length, value) };
    case "gasPressure":
    case "bore":
      return { ...input, [lever]: value };
  }
}
