/** Which thermocouple matters: how the column gradient answers to each temperature, pressure and length. */
import type { GridSize, VesselInput } from "./api.ts";
import { wallReadings } from "./balanced.ts";
import { beamColumns } from "./columns.ts";
import { DEFAULT_GRID } from "./grid.ts";
import { solveVapour } from "./solve.ts";
import { type Thermocouple, thermocoupleMap } from "./thermocouples.ts";

/** What is varied: a number of the vessel, or one of the thermocouples that its wall is given by. */
export type Lever =
  | "bottom"
  | "top"
  | "ends"
  | "hotStrip"
  | "gasPressure"
  | "bore"
  | "heatedLength"
  | { readonly thermocouple: string };

export interface Sensitivity {
  readonly lever: Lever;
  /** unit of the lever, UCUM */
  readonly unit: "K" | "rad" | "Pa" | "m";
  /** value at which the derivatives are taken */
  readonly value: number;
  /** ∂(column gradient)/∂lever, m⁻³ per unit; of a thermocouple with the wall between all of them interpolated anew */
  readonly gradient: number;
  /** ∂(column density)/∂lever, m⁻² per unit */
  readonly density: number;
  /** relative change of the column gradient per unit, 1/unit */
  readonly relativeGradient: number;
  /** |difference of forward and backward slopes| / |slope|: how far the answer is from a straight line, 1 */
  readonly curvature: number;
}

interface Varied extends Pick<Sensitivity, "lever" | "unit" | "value"> {
  /** step of the differences, in the lever's unit */
  readonly step: number;
  /** the vessel with the lever at another value */
  readonly at: (value: number) => VesselInput;
}

/** Steps of temperatures, K, of the hot strip's angle, rad, and of all else as a share. */
const KELVINS = 0.5;
const ANGLE = 0.01;
const SHARE = 5e-3;

/**
 * Derivatives of the columns on a beam `height` m above the axis, by central differences of the solved tube, each
 * solution started from the unperturbed one. Solved to 1e-10, so that the differences carry the physics and not the
 * residual: good to about 0.1 % of themselves. The steps are small enough for a straight line; `curvature` says how
 * straight it was. With the bore the beam's height stays as it is; the vessel's length grows where the heated length
 * would exceed it. A wall of a heater's balance is moved as a whole, so that its readings change.
 *
 * @param thermocouples those that `input.map` was made of: each takes the place of bottom, top and ends
 * @throws Refusal as `solveVapour`
 */
export function sensitivities(
  input: VesselInput,
  height = 0,
  grid: GridSize = DEFAULT_GRID,
  thermocouples?: readonly Thermocouple[],
): readonly Sensitivity[] {
  const base = solveVapour(input, grid, undefined, 1e-10);
  const heights = Float64Array.of(height);
  const columnsOf = (changed: VesselInput): { readonly gradient: number; readonly density: number } => {
    const columns = beamColumns(solveVapour(changed, grid, base, 1e-10), heights);
    return { gradient: columns.columnGradient[0], density: columns.columnDensity[0] };
  };
  const middle = beamColumns(base, heights).columnGradient[0];
  return varied(input, thermocouples).map(({ lever, unit, value, step: h, at }) => {
    const above = columnsOf(at(value + h));
    const below = columnsOf(at(value - h));
    const gradient = (above.gradient - below.gradient) / (2 * h);
    const forward = (above.gradient - middle) / h;
    const backward = (middle - below.gradient) / h;
    return {
      lever,
      unit,
      value,
      gradient,
      density: (above.density - below.density) / (2 * h),
      relativeGradient: gradient / middle,
      curvature: gradient === 0 ? 0 : Math.abs((forward - backward) / gradient),
    };
  });
}

function varied(input: VesselInput, thermocouples: readonly Thermocouple[] | undefined): Varied[] {
  const { wall, gasPressure, bore, heatedLength, length } = input;
  const share = (
    lever: "gasPressure" | "bore" | "heatedLength",
    unit: "Pa" | "m",
    value: number,
    at: Varied["at"],
  ): Varied => ({ lever, unit, value, step: SHARE * value, at });
  // Thermocouples stand at places, so that a bore or a heated length of another size has the wall drawn anew.
  const walled = (changed: VesselInput, points = thermocouples): VesselInput => {
    if (points === undefined) return changed;
    const map = thermocoupleMap(points, changed);
    return { ...changed, map, wall: { ...wall, ...wallReadings(map) } };
  };
  return [
    ...(thermocouples === undefined
      ? ofReadings(input)
      : thermocouples.map(
          ({ name, temperature }, k): Varied => ({
            lever: { thermocouple: name },
            unit: "K",
            value: temperature,
            step: KELVINS,
            at: (value) =>
              walled(
                input,
                thermocouples.map((point, i) => (i === k ? { ...point, temperature: value } : point)),
              ),
          }),
        )),
    share("gasPressure", "Pa", gasPressure, (value) => ({ ...input, gasPressure: value })),
    share("bore", "m", bore, (value) => walled({ ...input, bore: value })),
    share("heatedLength", "m", heatedLength, (value) =>
      walled({ ...input, heatedLength: value, length: Math.max(length, value) }),
    ),
  ];
}

/** Bottom, top and ends, and the width of the hot strip where it makes the wall. */
function ofReadings(input: VesselInput): Varied[] {
  const { wall, map } = input;
  const readings = (["bottom", "top", "ends"] as const).map(
    (lever): Varied => ({
      lever,
      unit: "K",
      value: wall[lever],
      step: Math.min(KELVINS, 0.25 * wall[lever]),
      at: (value) => ({ ...input, wall: { ...wall, [lever]: value } }),
    }),
  );
  const { hotStrip } = wall;
  const step = Math.min(ANGLE, 0.25 * hotStrip, 0.25 * (2 * Math.PI - hotStrip));
  // A wall that is hot all round has no edge of the strip to move.
  if (map !== undefined || !(step > 0)) return readings;
  const at = (value: number): VesselInput => ({ ...input, wall: { ...wall, hotStrip: value } });
  return [...readings, { lever: "hotStrip", unit: "rad", value: hotStrip, step, at }];
}
