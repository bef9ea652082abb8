/** How much light a glass takes on its way, from data/glass-absorption.json. */
import data from "../../data/glass-absorption.json" with { type: "json" };
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";

/**
 * Absorption 4πk/λ of a glass, 1/m, against vacuum wavelength, m: a monotone cubic through the catalogue's points, beyond them that of the last one. The catalogue's
 * wavelengths are those in air, 3e-4 shorter: less than the melts differ.
 * @param code six-digit code; a glass without stored absorption is taken as clear
 */
export function darkeningOf(code: string): (wavelength: number) => number {
  const rows = data.entries.find((entry) => entry.glass_code === code)?.k;
  if (rows === undefined) return () => 0;
  const at = Float64Array.from(rows, (row) => row[0] * 1e-6);
  const curve = new MonotoneCubic(
    at,
    Float64Array.from(rows, (row, i) => (4 * Math.PI * row[1]) / at[i]),
  );
  const last = at[at.length - 1];
  return (w) => curve.value(Math.min(last, Math.max(at[0], w)));
}
