/**
 * Dimensions as integer exponents over eight bases. The plane angle counts as a base (as in UCUM), so that a
 * frequency in Hz and an angular frequency in rad/s are never taken for each other.
 */

/** Exponents of, in this order: m, kg, s, K, A, mol, cd, rad. */
export type Dimension = readonly [number, number, number, number, number, number, number, number];

/** SI symbols of the bases, in the order of `Dimension`. */
export const BASES = ["m", "kg", "s", "K", "A", "mol", "cd", "rad"] as const;

export const DIMENSIONLESS: Dimension = [0, 0, 0, 0, 0, 0, 0, 0];

/** a + power · b, exponent by exponent. */
export function combine(a: Dimension, b: Dimension, power: number): Dimension {
  return a.map((exponent, i) => exponent + power * b[i]) as unknown as Dimension;
}

export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((exponent, i) => exponent === b[i]);
}

/** The dimension as a UCUM code of base units, e.g. "m2.kg.s-2"; "1" when there is none. */
export function dimensionCode(dimension: Dimension): string {
  const factors = BASES.flatMap((base, i) => {
    const exponent = dimension[i];
    if (exponent === 0) return [];
    return [exponent === 1 ? base : `${base}${exponent}`];
  });
  return factors.length === 0 ? "1" : factors.join(".");
}
