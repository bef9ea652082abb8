import { Refusal } from "../quantity/refusal.ts";
import { faddeevaFar } from "./faddeeva-far.ts";
import { CELL, faddeevaTable, NODES, SPLIT, STRIP, TERMS } from "./faddeeva-table.ts";
import { addGaussian } from "./faddeeva-strip.ts";

const STRIDE = 2 * TERMS;
const oneX = new Float64Array(1);
const oneY = new Float64Array(1);
const oneOut = new Float64Array(2);

/**
 * Faddeeva function w(z) = exp(−z²)·erfc(−iz) of z = x + iy in the closed upper half plane, written as
 * out[offset] = Re w, out[offset + 1] = Im w. See `faddeevaArray` for regimes and accuracy; that is the function to use
 * for many points.
 *
 * @param x real part, finite
 * @param y imaginary part, finite, ≥ 0
 * @throws Refusal where x or y is not finite or y < 0
 */
export function faddeeva(x: number, y: number, out: Float64Array, offset = 0): void {
  oneX[0] = x;
  oneY[0] = y;
  faddeevaArray(oneX, oneY, oneOut);
  out[offset] = oneOut[0];
  out[offset + 1] = oneOut[1];
}

/**
 * Faddeeva function of many points: out[2k] = Re w, out[2k + 1] = Im w of z_k = x[k] + i·y[k].
 *
 * Regimes, cheapest test first:
 * - |z| ≥ 8: asymptotic series, as many terms as |z| asks for (1 beyond 10⁸, 17 at 8), plus exp(−x²) where Im z < 10⁻⁶
 *   lets it show (`faddeeva-far.ts`);
 * - else Taylor series of 16 terms about the nearest node of a grid of side ¼ (`faddeeva-table.ts`); for Im z < 1/128,
 *   |Re z| > 2⅝ of the Dawson part alone, plus exp(−z²).
 * Both halves x < 0 and x > 0 are mirror images to the last bit.
 *
 * @param out interleaved, at least 2·x.length; must not overlap x or y
 * @throws Refusal where a point is not finite or Im z < 0
 */
export function faddeevaArray(x: Float64Array, y: Float64Array, out: Float64Array): void {
  for (let k = 0; k < x.length; k++) {
    if (!(y[k] >= 0 && y[k] < Infinity && x[k] > -Infinity && x[k] < Infinity)) {
      throw new Refusal({
        code: "outside-upper-half-plane",
        field: "z",
        received: `${String(x[k])} + ${String(y[k])}i`,
        expected: "a finite complex number with Im z ≥ 0",
      });
    }
  }
  evaluateMany(x, y, x.length, faddeevaTable(), out);
}

/**
 * The kernel: `count` points of the closed upper half plane, unchecked, laid out as in `faddeevaArray`. Allocates
 * nothing. Inside |z| = 8 the series is summed in its odd and even powers, two short chains in δ² instead of one long
 * one in δ. The WebAssembly kernel repeats these operations one by one and gives the same bits.
 */
export function evaluateMany(
  x: Float64Array,
  y: Float64Array,
  count: number,
  table: Float64Array,
  out: Float64Array,
): void {
  for (let k = 0; k < count; k++) {
    const a = x[k];
    const b = y[k];
    if (a * a + b * b >= 64) {
      faddeevaFar(x, y, k, out, 2 * k);
      continue;
    }
    const ax = Math.abs(a);
    const i = (ax * 4 + 0.5) | 0;
    const j = (b * 4 + 0.5) | 0;
    const split = b < STRIP && i >= SPLIT;
    const dRe = ax - i * CELL;
    const dIm = b - j * CELL;
    let at = ((split ? NODES : j) * NODES + i) * STRIDE;
    const end = at + STRIDE;
    const p = (dRe - dIm) * (dRe + dIm);
    const q = 2 * dRe * dIm;
    let oddRe = table[at];
    let oddIm = table[at + 1];
    let evenRe = table[at + 2];
    let evenIm = table[at + 3];
    for (at += 4; at < end; at += 4) {
      const nextOdd = oddRe * p - oddIm * q + table[at];
      oddIm = oddRe * q + oddIm * p + table[at + 1];
      oddRe = nextOdd;
      const nextEven = evenRe * p - evenIm * q + table[at + 2];
      evenIm = evenRe * q + evenIm * p + table[at + 3];
      evenRe = nextEven;
    }
    const im = oddRe * dIm + oddIm * dRe + evenIm;
    out[2 * k] = oddRe * dRe - oddIm * dIm + evenRe;
    out[2 * k + 1] = a < 0 ? -im : im;
    if (split) addGaussian(x, y, k, table, out, 2 * k);
  }
}
