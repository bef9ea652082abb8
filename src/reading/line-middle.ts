/** Where the middle of a dark line stands: one number from a profile of unknown shape and its neighbour's wings. */

export interface LineMiddle {
  /** places counted from 0 at the first element's own middle */
  readonly middle: number;
  /** from the noise alone, elements */
  readonly standardUncertainty: number;
}

/** Least width of the window, elements: narrower ones would feel the grid of the columns. */
const NARROWEST = 1.5;
/** Window widths s that must have room in the stretch on either side. */
const SIDE = 3;
const STEPS = 30;
/** Elements; far below any noise. */
const SETTLED = 1e-6;

/**
 * The μ at which Σ missing·exp(−½((c − μ)/s)²) is largest: there the odd moment of the missing light in a window about μ
 * is nil, so a symmetric line is found in its middle whatever its shape, and what is far out counts for nothing. The plain
 * moment Σ missing·c/Σ missing follows the wings to the longer end of the stretch: 40 pm on a flame's sodium pair. The
 * window is as wide as the line, s = area/(depth·√(2π)), or as the stretch has room for: for a Gaussian line the noise is then the least possible.
 *
 * @param missing light missing, share, per column of the line's own stretch
 * @param noise standard deviation of each, independent
 */
export function lineMiddle(missing: Float64Array, noise: number): LineMiddle {
  let area = 0;
  let depth = 0;
  for (const v of missing) {
    area += v;
    if (v > depth) depth = v;
  }
  const own = Math.max(area / (depth * Math.sqrt(2 * Math.PI)), NARROWEST) || NARROWEST;
  let middle = 0;
  let best = Number.NEGATIVE_INFINITY;
  for (let c = 0; c < missing.length; c++) {
    const sum = window(missing, c, own)[0];
    if (sum <= best) continue;
    best = sum;
    middle = c;
  }
  middle = climb(missing, middle, own);
  // A window that the stretch cuts off on one side is lopsided itself.
  const near = Math.min(middle, missing.length - 1 - middle) / SIDE;
  const s = Math.max(Math.min(own, near), NARROWEST);
  if (s < own) middle = climb(missing, middle, s);
  const [, , bend, pull] = window(missing, middle, s);
  return { middle, standardUncertainty: (noise * Math.sqrt(pull)) / Math.abs(bend) };
}

function climb(missing: Float64Array, start: number, s: number): number {
  let middle = start;
  for (let step = 0; step < STEPS; step++) {
    const [, slope, bend] = window(missing, middle, s);
    // Uphill where the sum is not yet bent downward.
    const wanted = bend < 0 ? -slope / bend : Math.sign(slope);
    const move = Math.max(-1, Math.min(1, wanted));
    middle = Math.max(0, Math.min(missing.length - 1, middle + move));
    if (Math.abs(move) < SETTLED) break;
  }
  return middle;
}

/** Σ missing·g at μ, its first and second derivative by μ, and Σ (dg/dμ)²; g = exp(−½((c − μ)/s)²). */
function window(missing: Float64Array, mu: number, s: number): [number, number, number, number] {
  let sum = 0;
  let slope = 0;
  let bend = 0;
  let pull = 0;
  for (let c = 0; c < missing.length; c++) {
    const t = (c - mu) / s;
    const g = Math.exp(-0.5 * t * t);
    sum += missing[c] * g;
    slope += (missing[c] * g * t) / s;
    bend += (missing[c] * g * (t * t - 1)) / (s * s);
    pull += ((g * t) / s) ** 2;
  }
  return [sum, slope, bend, pull];
}
