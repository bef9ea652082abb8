/**
 * One interface for everything that light can meet: vapour, flame, glass, air, water, oscillators, dye. A caller that only
 * wants numbers over wavelengths needs nothing else.
 */
import { formatQuantity, Refusal } from "../quantity/index.ts";
import type { OpticalResponse } from "./api.ts";

export interface Medium {
  /** what it is, for people, e.g. "glass 785258" */
  readonly name: string;
  /** vacuum wavelengths for which it answers, m, inclusive */
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
  /** what must be said beside its numbers, full sentences without the final stop */
  readonly remarks: readonly string[];
  /**
   * Index, absorption and velocities at vacuum wavelengths in m, in any order.
   * Refuses wavelengths outside `wavelengthMin` … `wavelengthMax`.
   */
  indexAt(wavelengths: Float64Array): OpticalResponse;
}

/** Refuses the first wavelength outside a medium's range. */
export function checkMediumRange(medium: Omit<Medium, "indexAt">, wavelengths: Float64Array): void {
  for (const wavelength of wavelengths) {
    if (wavelength >= medium.wavelengthMin && wavelength <= medium.wavelengthMax) continue;
    const nm = (x: number): string => formatQuantity(x, "m", { as: "nm" });
    const most = medium.wavelengthMax === Number.POSITIVE_INFINITY ? "up" : `to ${nm(medium.wavelengthMax)}`;
    throw new Refusal({
      code: "medium-out-of-range",
      field: "wavelength",
      received: Number.isFinite(wavelength) ? nm(wavelength) : String(wavelength),
      expected: `a wavelength from ${nm(medium.wavelengthMin)} ${most} for ${medium.name}`,
    });
  }
}
