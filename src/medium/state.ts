import { Refusal } from "../quantity/index.ts";
import { knownElement, lineById } from "../reference/index.ts";
import type { VapourState } from "./api.ts";

/** Refuses a state that the physics cannot answer; field names as in `VapourState`. */
export function checkState(state: VapourState): void {
  knownElement(state.element);
  positive("density", state.density, "m⁻³");
  positive("temperature", state.temperature, "K");
  if (state.gas !== undefined) notNegative("gas.pressure", state.gas.pressure, "Pa");
  if (state.overrides?.gasWidth !== undefined) notNegative("gasWidth", state.overrides.gasWidth, "Hz");
  for (const [id, strength] of Object.entries(state.overrides?.oscillatorStrength ?? {})) {
    lineById(id, "oscillatorStrength");
    notNegative(`oscillatorStrength.${id}`, strength, "");
  }
}

/** Refuses wavelengths that are not positive and finite, naming the first. */
export function checkWavelengths(wavelengths: Float64Array): void {
  for (const value of wavelengths) {
    if (!(value > 0 && value < Infinity)) positive("wavelength", value, "m");
  }
}

function positive(field: string, value: number, unit: string): void {
  if (value > 0 && value < Infinity) return;
  throw new Refusal({
    code: "not-positive",
    field,
    received: `${String(value)} ${unit}`.trim(),
    expected: `a number above 0${unit === "" ? "" : ` ${unit}`}`,
  });
}

function notNegative(field: string, value: number, unit: string): void {
  if (value >= 0 && value < Infinity) return;
  throw new Refusal({
    code: "negative",
    field,
    received: `${String(value)} ${unit}`.trim(),
    expected: `a number of 0 or more${unit === "" ? "" : ` ${unit}`}`,
  });
}
