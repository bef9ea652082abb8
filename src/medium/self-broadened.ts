/**
 * What a line can do at most once it is broadened by its own vapour alone: χ = −√(g_u/g_l)/(x + i), x the detuning in
 * half widths, whatever the density, for width and strength then grow together. Follows from χ near one line and the
 * resonance-broadening formula (data/broadening.json); derivation in docs/decisions/0204-self-broadened-line.md.
 */
import { hypot, log, pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";

/** Largest Re χ of a purely self-broadened line, 1: ½√(g_u/g_l), at one half width to the red. */
export function peakSusceptibility(gUpper: number, gLower: number): number {
  positive("gUpper", gUpper);
  positive("gLower", gLower);
  return Math.sqrt(gUpper / gLower) / 2;
}

/** Largest n − 1 of a purely self-broadened line, 1: 0.244, 0.339, 0.409 for g_u/g_l = 1, 2, 3. */
export function peakRefractivity(gUpper: number, gLower: number): number {
  const strength = 2 * peakSusceptibility(gUpper, gLower);
  // Golden section over the detuning: n − 1 has one maximum on the red side.
  const ratio = (Math.sqrt(5) - 1) / 2;
  let low = -20;
  let high = 0;
  for (let k = 0; k < 80; k++) {
    const a = high - ratio * (high - low);
    const b = low + ratio * (high - low);
    if (refractivity(strength, a) > refractivity(strength, b)) high = b;
    else low = a;
  }
  return refractivity(strength, (low + high) / 2);
}

function refractivity(strength: number, x: number): number {
  // χ = −s(x − i)/(x² + 1)
  const re = 1 - (strength * x) / (x * x + 1);
  const im = strength / (x * x + 1);
  return Math.sqrt((hypot(re, im) + re) / 2) - 1;
}

/**
 * Deflection at the edge of the gap of a purely self-broadened line, rad, as a share T of the light is left there:
 * √(2π ln(1/T))/(4π)·(g_u/g_l)^¼·√(λL)/H_N. Neither strength nor density nor element stands in it.
 *
 * @param transmission T, 0…1
 * @param length L of the vapour, m
 * @param scaleHeight H_N = N/|dN/dy|, m
 */
export function edgeDeflectionLimit(
  transmission: number,
  gUpper: number,
  gLower: number,
  wavelength: number,
  length: number,
  scaleHeight: number,
): number {
  positive("transmission", transmission);
  if (transmission >= 1) {
    throw new Refusal({
      code: "bad-transmission",
      field: "transmission",
      received: String(transmission),
      expected: "a share between 0 and 1",
    });
  }
  positive("gUpper", gUpper);
  positive("gLower", gLower);
  positive("wavelength", wavelength);
  positive("length", length);
  positive("scaleHeight", scaleHeight);
  const factor = Math.sqrt(2 * Math.PI * log(1 / transmission)) / (4 * Math.PI);
  return (factor * pow(gUpper / gLower, 0.25) * Math.sqrt(wavelength * length)) / scaleHeight;
}

function positive(field: string, value: number): void {
  if (value > 0 && value < Infinity) return;
  throw new Refusal({ code: `bad-${field}`, field, received: String(value), expected: "a number above 0" });
}
