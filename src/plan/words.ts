/** Wording shared by findings, sheet and tables: SI numbers as a person at the bench writes them. */

export const COMMON = "common practice, no source";

/** "455.66" of a wavelength in m. */
export const nm = (metres: number): string => (metres * 1e9).toFixed(2);

/** Text of a temperature as the setup file takes it, K → "285 degC". */
export function celsiusText(kelvin: number): string {
  return `${Number((kelvin - 273.15).toFixed(1))} degC`;
}

/** The same for a person: "285 °C". */
export function celsius(kelvin: number): string {
  return celsiusText(kelvin).replace("degC", "°C");
}

/** Text of a quantity as the setup file takes it: si · factor, three digits, unit. */
export function plainText(si: number, factor: number, unit: string): string {
  return `${Number((si * factor).toPrecision(3))} ${unit}`;
}

/** Number with so many digits, plainly. */
export function digits(value: number, significant = 3): string {
  const size = Math.abs(value);
  return value === 0 || (size >= 1e-3 && size < 1e6)
    ? String(Number(value.toPrecision(significant)))
    : value.toExponential(significant - 1);
}

/** A span of time in s as "35 s", "12 min", "3.2 h". */
export function span(seconds: number): string {
  if (seconds < 100) return `${digits(seconds, 2)} s`;
  if (seconds < 5400) return `${Math.round(seconds / 60)} min`;
  return seconds < 36e4 ? `${digits(seconds / 3600, 2)} h` : `${digits(seconds / 86400, 2)} days`;
}
