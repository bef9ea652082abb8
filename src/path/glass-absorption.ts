/** How much light a glass takes on its way, from data/glass-absorption.json. */
import data from "../../data/glass-absorption.json" with { type: "json" };
import { exp, log } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";

interface Catalogued {
  readonly glass_code: string;
  readonly lost: readonly number[];
  readonly length?: number;
  readonly wavelengths?: readonly number[];
}

/**
 * Absorption of a glass, 1/m, against vacuum wavelength, m: −ln(internal transmittance)/length of the maker's catalogue, a monotone cubic through its
 * logarithms (towards the violet it rises exponentially), beyond them that of the last one. The catalogue's wavelengths are those in air, 3e-4 shorter: less than the melts differ.
 * @param code six-digit code; what is no stored glass ("fused-silica", "sapphire") is taken as clear
 */
export function darkeningOf(code: string): (wavelength: number) => number {
  const entries: readonly Catalogued[] = data.entries;
  const found = entries.find((entry) => entry.glass_code === code);
  if (found === undefined) return () => 0;
  const { lost, length = data.length, wavelengths = data.wavelengths.slice(-lost.length) } = found;
  const at = Float64Array.from(wavelengths, (micrometres) => micrometres * 1e-6);
  const curve = new MonotoneCubic(
    at,
    Float64Array.from(lost, (thousandths) => log(-log((1000 - thousandths) / 1000) / length)),
  );
  const last = at[at.length - 1];
  return (w) => exp(curve.value(Math.min(last, Math.max(at[0], w))));
}
