import { faddeevaFar, faddeevaFarSlope } from "./faddeeva-far.ts";
import { addGaussianWithSlope } from "./faddeeva-strip.ts";
import { CELL, fillNodeAt, NODES, SPLIT, STRIP, TERMS } from "./faddeeva-table.ts";

const STRIDE = 2 * TERMS;

/**
 * w(z) and dw/dz of `count` points of the closed upper half plane, unchecked: out[4k …] = Re w, Im w, Re w′, Im w′.
 * The derivative comes from the same series as w, not from w′ = −2zw + 2i/√π, which loses all digits far out.
 * Allocates nothing.
 */
export function evaluateManyWithSlope(
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
      faddeevaFar(x, y, k, out, 4 * k);
      faddeevaFarSlope(x, y, k, out, 4 * k);
      continue;
    }
    const ax = Math.abs(a);
    const i = (ax * 4 + 0.5) | 0;
    const j = (b * 4 + 0.5) | 0;
    const split = b < STRIP && i >= SPLIT;
    const dRe = ax - i * CELL;
    const dIm = b - j * CELL;
    let at = ((split ? NODES : j) * NODES + i) * STRIDE;
    if (Number.isNaN(table[at])) fillNodeAt(at);
    const end = at + STRIDE;
    let re = table[at];
    let im = table[at + 1];
    let slopeRe = 0;
    let slopeIm = 0;
    for (at += 2; at < end; at += 2) {
      const nextSlope = slopeRe * dRe - slopeIm * dIm + re;
      slopeIm = slopeRe * dIm + slopeIm * dRe + im;
      slopeRe = nextSlope;
      const next = re * dRe - im * dIm + table[at];
      im = re * dIm + im * dRe + table[at + 1];
      re = next;
    }
    // w(−x + iy) is the conjugate of w(x + iy), so its derivative is minus the conjugate
    out[4 * k] = re;
    out[4 * k + 1] = a < 0 ? -im : im;
    out[4 * k + 2] = a < 0 ? -slopeRe : slopeRe;
    out[4 * k + 3] = slopeIm;
    if (split) addGaussianWithSlope(x, y, k, table, out, 4 * k);
  }
}
