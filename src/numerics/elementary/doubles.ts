/** Sums and products kept as two doubles, and doubles taken apart: what the elementary functions are built from. */

/** 2²⁷ + 1: parts a double into halves of 26 bits (T. J. Dekker, Numerische Mathematik 18, 224 (1971)). */
const SPLIT = 134217729;

/** a·b − p exactly, p being a·b rounded. Good for products and factors between 1e-290 and 1e290. */
export function productError(a: number, b: number, p: number): number {
  const ta = SPLIT * a;
  const ah = ta - (ta - a);
  const al = a - ah;
  const tb = SPLIT * b;
  const bh = tb - (tb - b);
  const bl = b - bh;
  return al * bl - (p - ah * bh - al * bh - ah * bl);
}

/** a + b − s exactly, s being a + b rounded (D. E. Knuth, The Art of Computer Programming, vol. 2, section 4.2.2). */
export function sumError(a: number, b: number, s: number): number {
  const part = s - a;
  return a - (s - part) + (b - part);
}

const LEAST = -1074;
const MOST = 1023;
const POWERS = new Float64Array(MOST - LEAST + 1);
POWERS[-LEAST] = 1;
for (let k = 1; k <= MOST; k++) POWERS[k - LEAST] = 2 * POWERS[k - 1 - LEAST];
for (let k = -1; k >= LEAST; k--) POWERS[k - LEAST] = POWERS[k + 1 - LEAST] / 2;

/** y·2ᵏ for y between 1/4 and 4; rounded once more below 2⁻¹⁰²², 0 or infinite beyond the doubles. */
export function scaled(y: number, k: number): number {
  if (k >= -1020 && k <= 1020) return y * POWERS[k - LEAST];
  if (k > 1020) return y * 16 * POWERS[Math.min(k - 4, MOST) - LEAST];
  return (y / 16) * POWERS[Math.max(k + 4, LEAST) - LEAST];
}

const VALUE = new Float64Array(1);
const WORDS = new Uint32Array(VALUE.buffer);
/** Which of a double's two words holds its sign and exponent: this depends on the processor. */
const HIGH = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1 ? 1 : 0;

/** Exponent k of a positive normal double x = m·2ᵏ with m from √½ to √2, nearly. */
export function exponentOf(x: number): number {
  VALUE[0] = x;
  // 0x95f62: the high word's fraction of √2 is 0x6a09e, and this brings it to the next exponent
  return ((WORDS[HIGH] + 0x95f62) >>> 20) - 1023;
}

/** x·2⁻ᵏ for a positive normal double, k its exponent as `exponentOf` gives it. */
export function mantissaOf(x: number, k: number): number {
  return x * POWERS[-k - LEAST];
}
