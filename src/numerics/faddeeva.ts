import { Refusal } from "../quantity/refusal.ts";
import { faddeevaFar } from "./faddeeva-far.ts";
import { CELL, faddeevaTable, fillNodeAt, NODES, SPLIT, STRIP, TERMS } from "./faddeeva-table.ts";
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
 * - else Taylor series of 15 terms about the nearest node of a grid of side ¼ (`faddeeva-table.ts`); for Im z < 1/128,
 *   |Re z| > 2⅝ of the Dawson part alone, plus exp(−z²).
 *
 * Relative error against 40-digit values (test/outside/fixtures/faddeeva.json, 6200 points), in units of 10⁻¹⁵:
 *
 *     region                           Re w: worst, r.m.s.   Im w: worst, r.m.s.
 *     core                                1.2    0.2            0.8    0.2
 *     core, small y                       5.8    0.4            0.8    0.2
 *     core, tiny y                        1.0    0.2            0.8    0.2
 *     core, small x                       0.5    0.1            1.0    0.4
 *     near the origin                     0.4    0.1            0.7    0.2
 *     around |z| = 8                      0.8    0.2            0.6    0.1
 *     middle, 8 < |z| < 30                0.4    0.2            0.6    0.2
 *     middle, tiny y                      0.4    0.1            0.5    0.1
 *     far                                 0.4    0.1            0.5    0.1
 *     far, tiny y                         0.3    0.1            0.3    0.1
 *     huge                                0.2    0.1            0.2    0.1
 *     real axis                           0.8    0.1            0.7    0.2
 *     imaginary axis                      0.4    0.1            0.0    0.0
 *
 * asked for: 100. Values below 10⁻³⁰⁷ carry the digits that subnormal doubles have.
 * Both halves x < 0 and x > 0 are mirror images to the last bit.
 *
 * @param out interleaved, at least 2·x.length; must not overlap x or y
 * @throws Refusal where a point is not finite or Im z < 0
 */
export function faddeevaArray(x: Float64Array, y: Float64Array, out: Float64Array): void {
  if (evaluateMany(x, y, x.length, faddeevaTable(), out) < x.length) checkUpperHalfPlane(x, y);
}

/** Refuses points that are not finite or lie below the real axis, naming the first. */
export function checkUpperHalfPlane(x: Float64Array, y: Float64Array): void {
  for (let k = 0; k < x.length; k++) {
    // one sum tests both for NaN and infinity; where it overflows the parts are looked at
    if (y[k] >= 0 && Math.abs(x[k]) + y[k] < Infinity) continue;
    if (y[k] >= 0 && y[k] < Infinity && x[k] > -Infinity && x[k] < Infinity) continue;
    throw new Refusal({
      code: "outside-upper-half-plane",
      field: "z",
      received: `${String(x[k])} + ${String(y[k])}i`,
      expected: "a finite complex number with Im z ≥ 0",
    });
  }
}

/**
 * The kernel: `count` points laid out as in `faddeevaArray`. Gives back `count`, or the index of the first point that is
 * not finite or below the real axis, where it stops. Allocates nothing. Inside |z| = 8 two points go side by side through the Taylor series, each summed in its odd and even powers,
 * short chains in δ² instead of a long one in δ: one chain alone leaves the processor's multipliers waiting.
 * The WebAssembly kernel repeats these operations one by one and gives the same bits.
 */
export function evaluateMany(
  x: Float64Array,
  y: Float64Array,
  count: number,
  table: Float64Array,
  out: Float64Array,
): number {
  // imported constants are read through a cell each time; these are not
  const cell: number = CELL;
  const perCell = 1 / cell;
  const nodes: number = NODES;
  const stride: number = STRIDE;
  const firstSplit: number = SPLIT;
  const strip: number = STRIP;
  for (let k = 0; k < count; ) {
    const a0 = x[k];
    const b0 = y[k];
    if (!(a0 * a0 + b0 * b0 < 64 && b0 >= 0)) {
      if (!(b0 >= 0 && b0 < Infinity && Math.abs(a0) < Infinity)) return k;
      faddeevaFar(x, y, k, out, 2 * k);
      k++;
      continue;
    }
    // the partner: the next point, or the same once more where that is missing or far
    const next = k + 1 < count && x[k + 1] * x[k + 1] + y[k + 1] * y[k + 1] < 64 && y[k + 1] >= 0 ? k + 1 : k;
    const a1 = x[next];
    const b1 = y[next];
    const ax0 = Math.abs(a0);
    const ax1 = Math.abs(a1);
    const i0 = (ax0 * perCell + 0.5) | 0;
    const i1 = (ax1 * perCell + 0.5) | 0;
    const j0 = (b0 * perCell + 0.5) | 0;
    const j1 = (b1 * perCell + 0.5) | 0;
    // 1 or 0 without a branch; where it is 1, j is 0
    const split0 = Number(b0 < strip) & Number(i0 >= firstSplit);
    const split1 = Number(b1 < strip) & Number(i1 >= firstSplit);
    const re0 = ax0 - i0 * cell;
    const re1 = ax1 - i1 * cell;
    const im0 = b0 - j0 * cell;
    const im1 = b1 - j1 * cell;
    const p0 = (re0 - im0) * (re0 + im0);
    const p1 = (re1 - im1) * (re1 + im1);
    const q0 = 2 * re0 * im0;
    const q1 = 2 * re1 * im1;
    let at0 = ((split0 * nodes + j0) * nodes + i0) * stride;
    let at1 = ((split1 * nodes + j1) * nodes + i1) * stride;
    if (Number.isNaN(table[at0])) fillNodeAt(at0);
    if (Number.isNaN(table[at1])) fillNodeAt(at1);
    let evenRe0 = table[at0];
    let evenIm0 = table[at0 + 1];
    let oddRe0 = table[at0 + 2];
    let oddIm0 = table[at0 + 3];
    let evenRe1 = table[at1];
    let evenIm1 = table[at1 + 1];
    let oddRe1 = table[at1 + 2];
    let oddIm1 = table[at1 + 3];
    const last = at0 + stride - 2;
    let step: number;
    for (at0 += 4, at1 += 4; at0 < last; at0 += 4, at1 += 4) {
      step = evenRe0 * p0 - evenIm0 * q0 + table[at0];
      evenIm0 = evenRe0 * q0 + evenIm0 * p0 + table[at0 + 1];
      evenRe0 = step;
      step = evenRe1 * p1 - evenIm1 * q1 + table[at1];
      evenIm1 = evenRe1 * q1 + evenIm1 * p1 + table[at1 + 1];
      evenRe1 = step;
      step = oddRe0 * p0 - oddIm0 * q0 + table[at0 + 2];
      oddIm0 = oddRe0 * q0 + oddIm0 * p0 + table[at0 + 3];
      oddRe0 = step;
      step = oddRe1 * p1 - oddIm1 * q1 + table[at1 + 2];
      oddIm1 = oddRe1 * q1 + oddIm1 * p1 + table[at1 + 3];
      oddRe1 = step;
    }
    step = evenRe0 * p0 - evenIm0 * q0 + table[at0];
    evenIm0 = evenRe0 * q0 + evenIm0 * p0 + table[at0 + 1];
    evenRe0 = step;
    step = evenRe1 * p1 - evenIm1 * q1 + table[at1];
    evenIm1 = evenRe1 * q1 + evenIm1 * p1 + table[at1 + 1];
    evenRe1 = step;
    // ±1 without a branch that half of all points would take the other way
    const sign0 = a0 / (ax0 === 0 ? 1 : ax0);
    const sign1 = a1 / (ax1 === 0 ? 1 : ax1);
    out[2 * next] = oddRe1 * re1 - oddIm1 * im1 + evenRe1;
    out[2 * next + 1] = sign1 * (oddRe1 * im1 + oddIm1 * re1 + evenIm1);
    out[2 * k] = oddRe0 * re0 - oddIm0 * im0 + evenRe0;
    out[2 * k + 1] = sign0 * (oddRe0 * im0 + oddIm0 * re0 + evenIm0);
    if (split0 === 1) addGaussian(x, y, k, table, out, 2 * k);
    if (split1 === 1 && next > k) addGaussian(x, y, next, table, out, 2 * next);
    k = next + 1;
  }
  return count;
}
