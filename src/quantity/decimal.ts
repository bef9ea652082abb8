/** Decimal arithmetic on the digits a person wrote, so that "5 um" is 5e-6 and not 4.9999999999999996e-6. */

/** text · 10^power, rounded once. `text` is a JavaScript decimal literal. */
export function scaleDecimal(text: string, power: number): number {
  const [mantissa, exponent] = text.toLowerCase().split("e");
  return Number(`${mantissa}e${Number(exponent ?? 0) + power}`);
}

/** a + b without the rounding noise that a difference of decimals leaves in the sixteenth digit. */
export function addDecimal(a: number, b: number): number {
  return Number((a + b).toPrecision(15));
}

/** Significant digits as written, and the power of ten of the last one: "25.0" → 3 digits, last place −1. */
export function lastPlace(text: string): number {
  const [mantissa, exponent] = text.toLowerCase().split("e");
  const point = mantissa.indexOf(".");
  const decimals = point < 0 ? 0 : mantissa.length - point - 1;
  return Number(exponent ?? 0) - decimals;
}
