/** Wigner 6j symbols by Racah's formula; Edmonds, "Angular Momentum in Quantum Mechanics" (1957), eq. (6.3.7). */

const FACTORIALS: readonly number[] = Array.from({ length: 60 }, (_, n) => {
  let product = 1;
  for (let k = 2; k <= n; k++) product *= k;
  return product;
});

/** True where a, b, c can form a triangle and sum to a whole number. */
function triangle(a: number, b: number, c: number): boolean {
  return Number.isInteger(a + b + c) && a + b >= c && b + c >= a && c + a >= b;
}

function delta(a: number, b: number, c: number): number {
  return (FACTORIALS[a + b - c] * FACTORIALS[a - b + c] * FACTORIALS[-a + b + c]) / FACTORIALS[a + b + c + 1];
}

/**
 * The symbol {a b c; d e f} for whole or half-whole numbers ≥ 0; 0 where a triangle is broken.
 * Exact to some 10⁻¹⁵ for arguments up to 10 (the factorials used stay below 60!).
 */
export function sixJ(a: number, b: number, c: number, d: number, e: number, f: number): number {
  if (!(triangle(a, b, c) && triangle(a, e, f) && triangle(d, b, f) && triangle(d, e, c))) return 0;
  const low = Math.max(a + b + c, a + e + f, d + b + f, d + e + c);
  const high = Math.min(a + b + d + e, b + c + e + f, c + a + f + d);
  let sum = 0;
  for (let t = low; t <= high; t++) {
    const below =
      FACTORIALS[t - a - b - c] *
      FACTORIALS[t - a - e - f] *
      FACTORIALS[t - d - b - f] *
      FACTORIALS[t - d - e - c];
    const above =
      FACTORIALS[a + b + d + e - t] * FACTORIALS[b + c + e + f - t] * FACTORIALS[c + a + f + d - t];
    sum += ((t % 2 === 0 ? 1 : -1) * FACTORIALS[t + 1]) / (below * above);
  }
  return sum * Math.sqrt(delta(a, b, c) * delta(a, e, f) * delta(d, b, f) * delta(d, e, c));
}
