/** Other vessels a lecturer has, as columns the rest of the chain takes: a sealed cell in an oven, a salted flame. */
import { exp } from "../numerics/elementary/index.ts";
import { saturationPressure } from "../medium/pressure.ts";
import { Refusal } from "../quantity/refusal.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { BeamColumns } from "./api.ts";

export interface SealedCell {
  readonly element: string;
  /** coldest point, where the metal lies, K: sets the pressure */
  readonly sideArm: number;
  /** cell body and gas, K, ≥ side arm */
  readonly body: number;
  /** path of the light inside, m */
  readonly pathLength: number;
  readonly pressureEquation?: string;
}

/** A sealed cell: uniform vapour at p_sat(side arm) and the body's temperature; it absorbs and bends nothing. */
export function cellColumns(cell: SealedCell, heights: Float64Array): BeamColumns {
  positive("vessel.sideArm", cell.sideArm, "K");
  positive("vessel.pathLength", cell.pathLength, "m");
  if (!(cell.body >= cell.sideArm)) {
    refuse(
      "vessel.body",
      `${cell.body} K`,
      `at least the side arm's ${cell.sideArm} K, or metal settles in the body`,
    );
  }
  const pressure = saturationPressure(cell.element, cell.sideArm, cell.pressureEquation);
  const density = pressure / (BOLTZMANN * cell.body);
  const saturation = pressure / saturationPressure(cell.element, cell.body, cell.pressureEquation);
  return columns(heights, cell.body, saturation, () => ({ density, slope: 0, length: cell.pathLength }));
}

export interface SaltedFlame {
  /** atoms in the middle of the flame, m⁻³ */
  readonly density: number;
  /** height of the middle above the beam's axis, m */
  readonly centre: number;
  /** 1/e half-width of the flame in height, m */
  readonly halfWidth: number;
  /** depth along the light, m */
  readonly depth: number;
  /** K */
  readonly temperature: number;
}

/** A salted flame of stated width: N = N₀ exp(−(y − centre)²/halfWidth²) over its depth. */
export function flameColumns(flame: SaltedFlame, heights: Float64Array): BeamColumns {
  positive("vessel.flameDensity", flame.density, "m⁻³");
  positive("vessel.flameWidth", flame.halfWidth, "m");
  positive("vessel.pathLength", flame.depth, "m");
  positive("vessel.flameTemperature", flame.temperature, "K");
  return columns(heights, flame.temperature, 0, (y) => {
    const t = (y - flame.centre) / flame.halfWidth;
    const density = flame.density * exp(-t * t);
    return { density, slope: (-2 * t * density) / flame.halfWidth, length: flame.depth };
  });
}

function columns(
  heights: Float64Array,
  temperature: number,
  supersaturation: number,
  at: (y: number) => { readonly density: number; readonly slope: number; readonly length: number },
): BeamColumns {
  const local = Array.from(heights, at);
  return {
    heights: heights.slice(),
    columnDensity: Float64Array.from(local, (l) => l.density * l.length),
    columnGradient: Float64Array.from(local, (l) => l.slope * l.length),
    gasColumnGradient: new Float64Array(heights.length),
    effectiveDensity: Float64Array.from(local, (l) => l.density),
    effectiveTemperature: new Float64Array(heights.length).fill(temperature),
    supersaturation: new Float64Array(heights.length).fill(supersaturation),
  };
}

function positive(field: string, value: number, unit: string): void {
  if (!(value > 0 && value < Infinity)) refuse(field, `${value} ${unit}`, "a positive number");
}

function refuse(field: string, received: string, expected: string): never {
  throw new Refusal({ code: "out-of-range", field, received, expected });
}
