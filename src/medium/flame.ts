/** A salted flame: a thin hot layer with N·L atoms per area, dark or bright before a source behind it. */
import { expm1 } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import { ATMOSPHERE, BOLTZMANN, PLANCK, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { MediumOverrides, VapourState } from "./api.ts";
import type { Medium } from "./medium.ts";
import { vapourMedium } from "./vapour-medium.ts";

export interface FlameInput {
  readonly element: string;
  /** atoms along the line of sight, 1/m² */
  readonly columnDensity: number;
  /** thickness of the layer, m */
  readonly thickness: number;
  /** K */
  readonly temperature: number;
  /** of the flame gas, Pa; default one atmosphere */
  readonly pressure?: number;
  readonly overrides?: MediumOverrides;
}

export interface Flame {
  /** the layer as a medium; flame gas counts as nitrogen */
  readonly medium: Medium;
  readonly thickness: number;
  readonly temperature: number;
}

/** m⁻², m and K must be above 0. Refuses otherwise, and as `vapourMedium`. */
export function flameLayer(input: FlameInput): Flame {
  const { element, columnDensity, thickness, temperature, pressure = ATMOSPHERE, overrides } = input;
  const wants: ReadonlyArray<readonly [string, number, string]> = [
    ["columnDensity", columnDensity, "a number of atoms per area above 0 m-2"],
    ["thickness", thickness, "a thickness above 0 m"],
    ["temperature", temperature, "a temperature above 0 K"],
  ];
  for (const [field, value, expected] of wants) {
    if (!(value > 0 && value < Infinity)) {
      throw new Refusal({ code: "flame", field: `flame.${field}`, received: String(value), expected });
    }
  }
  const state: VapourState = {
    element,
    density: columnDensity / thickness,
    temperature,
    gas: { species: "N2", pressure },
    ...(overrides === undefined ? {} : { overrides }),
  };
  const medium = vapourMedium(state);
  const remarks = [...medium.remarks, "the flame gas is taken as nitrogen at the flame's temperature"];
  return { medium: { ...medium, name: `flame with ${element}`, remarks }, thickness, temperature };
}

/** Optical depth of the layer (natural logarithm) at vacuum wavelengths, m. */
export function flameOpticalDepth({ medium, thickness }: Flame, wavelengths: Float64Array): Float64Array {
  return medium.indexAt(wavelengths).absorption.map((alpha) => alpha * thickness);
}

/**
 * Light behind the flame relative to the source alone: e^(−τ) + (1 − e^(−τ))·B(T_flame)/B(T_source), with Kirchhoff's law
 * for the flame's own light. Above 1 the line stands bright, below 1 dark; it vanishes where the source's brightness
 * temperature equals the flame's (line reversal), at every wavelength and depth alike.
 *
 * @param sourceTemperature brightness temperature of the source at these wavelengths, K, > 0
 */
export function sourceThroughFlame(
  flame: Flame,
  wavelengths: Float64Array,
  sourceTemperature: number,
): Float64Array {
  if (!(sourceTemperature > 0 && sourceTemperature < Infinity)) {
    throw new Refusal({
      code: "flame",
      field: "sourceTemperature",
      received: String(sourceTemperature),
      expected: "a brightness temperature above 0 K",
    });
  }
  const depth = flameOpticalDepth(flame, wavelengths);
  return wavelengths.map((wavelength, i) => {
    const x = (PLANCK * SPEED_OF_LIGHT) / (BOLTZMANN * wavelength);
    const ratio = expm1(x / sourceTemperature) / expm1(x / flame.temperature);
    return 1 - expm1(-depth[i]) * (ratio - 1);
  });
}
