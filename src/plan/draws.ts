/** Random draws that depend on nothing but a seed and a number: the same whoever draws them, in whatever order. */
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { Refusal } from "../quantity/index.ts";

/** A well-mixed 32-bit word (the finaliser of MurmurHash3, A. Appleby, public domain). */
function mix(word: number): number {
  let h = word | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

/**
 * Independent standard normal deviates, as many as asked for, by Box and Muller's transform from a generator whose
 * state is made of seed and index.
 * @param seed whole number, 0 to 2³² − 1
 * @param index whole number of the draw, ≥ 0
 */
export function normalDraw(seed: number, index: number, count: number): Float64Array {
  const base = mix(seed);
  const state = [1, 2, 3, 4].map((k) =>
    mix(mix(base + Math.imul(k, 0x9e3779b9)) ^ mix(index + Math.imul(k, 0x7f4a7c15))),
  );
  const generator = xoroshiro128plusFromState(state);
  // The first words of neighbouring states are still alike: let them part.
  for (let k = 0; k < 16; k++) generator.next();
  const uniform = (): number =>
    ((generator.next() >>> 5) * 67108864 + (generator.next() >>> 6) + 0.5) / 9007199254740992;
  const out = new Float64Array(count);
  for (let i = 0; i < count; i += 2) {
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    out[i] = radius * Math.cos(angle);
    if (i + 1 < count) out[i + 1] = radius * Math.sin(angle);
  }
  return out;
}

/**
 * Lower triangular factor L of a correlation matrix C = L Lᵀ, rows [i · n + j].
 * @throws Refusal where the correlations contradict each other (C is not positive definite)
 */
export function choleskyOf(correlation: Float64Array, n: number): Float64Array {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = correlation[i * n + j];
      for (let k = 0; k < j; k++) sum -= lower[i * n + k] * lower[j * n + k];
      if (i !== j) lower[i * n + j] = sum / lower[j * n + j];
      else if (sum > 1e-12) lower[i * n + i] = Math.sqrt(sum);
      else {
        throw new Refusal({
          code: "contradicting-correlations",
          field: "--together",
          received: "correlations that contradict each other",
          expected: "a positive definite correlation matrix, each coefficient between -1 and 1",
        });
      }
    }
  }
  return lower;
}

/** L·z, the correlated deviates of independent ones. */
export function correlated(lower: Float64Array, z: Float64Array): Float64Array {
  const n = z.length;
  return Float64Array.from({ length: n }, (_, i) => {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += lower[i * n + j] * z[j];
    return sum;
  });
}
