/** How one point of light spreads over pixels: slit image, pixel and Gaussian blur folded exactly, as tables ready for the loops. */
import { bend, boxPixelGauss, LEAST, ramp } from "../numerics/box-gauss.ts";

/** Parts of a pixel at which the table along the height is kept: the nearest one errs by 1/512 of a pixel at most. */
export const PHASES = 256;
/** Standard deviations at which a Gaussian is cut: 3e-7 of it lies beyond. */
const TAILS = 5;
/** A Gaussian of this many pixels hides the sharing of light between whole columns: its shape then errs by less than at 1 pixel between halves. */
const WIDE = 2;
/** A spread of slit and Gaussian below this variance, pixels², is finer than light shared out between halves of a column. */
const NARROW = 0.1;
/** By how much the columns may miss one at a place's light, 1, before the weights are evened out. */
const EVEN = 1e-6;
/** Halvings of the search for the width of the weights: 1e-9 of it. */
const HALVINGS = 30;

/** Longest stretch along the height that is laid down in one, pixels. */
export const LONGEST = 32;

/**
 * Spread along the height, summed up from above: C(u) = ∫ K up to u, with K = slit image ⊗ pixel ⊗ Gaussian at u pixels below a point. A point
 * smeared evenly from v₁ to v₂ puts (C(r − v₁) − C(r − v₂))/(v₂ − v₁) of its light on the row with middle r; over all rows that is 1.
 */
export interface HeightKernel {
  /** C(k − origin − p/256) at [p · length + k], phases p = 0…256 */
  readonly sums: Float32Array;
  readonly length: number;
  /** k of a point's own row */
  readonly origin: number;
  /** rows beyond which nothing falls on either side */
  readonly half: number;
  /** share of a point's light that falls on the pixel it is centred on, 1: dividing by it makes the cold line's middle 1 */
  readonly peak: number;
}

/** Places per column between which light is shared out along the width, for a slit's image and a Gaussian of so many pixels. */
export function placesPerColumn(slit: number, sigma: number): 1 | 2 | 4 {
  if (sigma >= WIDE) return 1;
  return (slit * slit) / 12 + sigma * sigma < NARROW ? 4 : 2;
}

/**
 * @param slit height of the slit's image, pixels, ≥ 0
 * @param sigma standard deviation of the Gaussian, pixels, ≥ 0
 */
export function heightKernel(slit: number, sigma: number): HeightKernel {
  const half = Math.ceil(slit / 2 + 0.5 + TAILS * sigma);
  const origin = half + LONGEST + 2;
  // Three more than a stretch can reach: the kernel's vectors go on to a multiple of four rows.
  const length = 2 * origin + 4;
  const sums = new Float32Array((PHASES + 1) * length);
  const sumAt = boxPixelGaussSums(slit, sigma, half);
  for (let p = 0; p <= PHASES; p++) {
    for (let k = 0; k < length; k++) {
      const j = (k - origin) * PHASES - p;
      sums[p * length + k] = j <= -half * PHASES ? 0 : j >= half * PHASES ? 1 : sumAt(j);
    }
  }
  return { sums, length, origin, half, peak: boxPixelGauss(0, slit, sigma) };
}

/** Weights of slit image ⊗ pixel ⊗ Gaussian for the rows or columns about a point, [phase · taps + k], k = half for the point's own; each phase sums to 1. */
export function pointKernel(
  slit: number,
  sigma: number,
): { table: Float32Array; taps: number; half: number; peak: number } {
  const half = Math.ceil(slit / 2 + 0.5 + TAILS * sigma);
  const taps = 2 * half + 2;
  const table = new Float32Array((PHASES + 1) * taps);
  for (let p = 0; p <= PHASES; p++) {
    for (let k = 0; k < taps; k++) table[p * taps + k] = boxPixelGauss(k - half - p / PHASES, slit, sigma);
  }
  return { table, taps, half, peak: boxPixelGauss(0, slit, sigma) };
}

/**
 * Spread along the width for light already shared out between the two nearest of `sub` places per column: symmetric weights ≥ 0 over those places, index
 * 0 = middle, both sides together `sub`, so that even light of 1 per column stays 1.
 *
 * Sharing out keeps the light's place and adds 1/6 of a squared step to its variance (mean over places); the weights are slit ⊗ pixel ⊗ Gaussian, narrowed until
 * the variance is right. Place and width of a line are exact; its shape errs by some 1e-3 of its peak. Whatever place light falls on, the columns get all of it, to 1e-6: where a profile
 * finer than a pixel would miss that, the weights of each place in a column are brought to their sum.
 * @param slit width of the slit's image, pixels, ≥ 0
 * @param sigma standard deviation of the Gaussian, pixels, ≥ 0
 * @param sub places per column, as placesPerColumn gives
 */
export function widthTaps(slit: number, sigma: number, sub: number): Float64Array {
  const { scale, even } = narrowing(slit, sigma, sub);
  const taps = sampled(slit, sigma, scale, sub);
  return (even ? taps : evened(taps, sub)).map((t) => t * sub);
}

/** Parts of a place at which the leaning weights are kept: the nearest one errs by 1/256 of a column at most. */
export const LEAN_PHASES = 64;

export interface LeaningTaps {
  /** (64 + 1) × (2·half + 1) */
  readonly table: Float32Array;
  readonly half: number;
}

/**
 * The same weights about points between places, for rows that are moved against one another: at [p · taps + k] the weight of place k − half about a point
 * p/64 of a place above place 0, p = 0…64. Those of each p that lie whole columns apart sum to 1, so that light counts alike wherever it falls.
 */
export function leaningTaps(slit: number, sigma: number, sub: number): LeaningTaps {
  const { scale } = narrowing(slit, sigma, sub);
  const half = Math.max(reachOf(slit, sigma, sub), sub >> 1) + 1;
  const taps = 2 * half + 1;
  const step = 1 / (sub * Math.max(scale, LEAST));
  const table = new Float32Array((LEAN_PHASES + 1) * taps);
  for (let p = 0; p <= LEAN_PHASES; p++) {
    const weights = Float64Array.from({ length: taps }, (_, k) =>
      Math.max(0, boxPixelGauss((k - half - p / LEAN_PHASES) * step, slit, sigma)),
    );
    for (let place = 0; place < sub; place++) {
      let sum = 0;
      for (let k = place; k < taps; k += sub) sum += weights[k];
      // None: the column whose middle is nearest has all of it.
      if (sum === 0) {
        const middle = half + p / LEAN_PHASES;
        weights[place + sub * Math.round((middle - place) / sub)] = sum = 1;
      }
      for (let k = place; k < taps; k += sub) table[p * taps + k] = weights[k] / sum;
    }
  }
  return { table, half };
}

/** At which share of the width the sampled profile has the variance that is left when light has been shared out, and whether it then is even by itself. */
function narrowing(slit: number, sigma: number, sub: number): { scale: number; even: boolean } {
  const wanted = sub * sub * ((slit * slit) / 12 + 1 / 12 + sigma * sigma) - 1 / 6;
  const scale = narrowed((share) => sampled(slit, sigma, share, sub), wanted);
  if (unevenness(sampled(slit, sigma, scale, sub), sub) < EVEN) return { scale, even: true };
  return { scale: narrowed((share) => evened(sampled(slit, sigma, share, sub), sub), wanted), even: false };
}

/** The scale that gives the weights the wanted variance. */
function narrowed(at: (scale: number) => Float64Array, wanted: number): number {
  let low = 0;
  let high = 1;
  let middle = high;
  for (let i = 0; i < HALVINGS; i++) {
    middle = (low + high) / 2;
    if (varianceOf(at(middle)) > wanted) high = middle;
    else low = middle;
  }
  return middle;
}

/** What the columns get of light on each place of a column, 1 altogether: both sides of the weights, by distance from a column's middle. */
function sharesByPlace(taps: Float64Array, sub: number): Float64Array {
  const shares = new Float64Array(sub);
  for (let k = 1 - taps.length; k < taps.length; k++)
    shares[(k + taps.length * sub) % sub] += taps[Math.abs(k)];
  return shares;
}

function unevenness(taps: Float64Array, sub: number): number {
  return sharesByPlace(taps, sub).reduce((worst, share) => Math.max(worst, Math.abs(share * sub - 1)), 0);
}

/** The same weights with every place's share brought to 1/sub. A place that has none gets its nearest weight. */
function evened(taps: Float64Array, sub: number): Float64Array {
  const out = Float64Array.from({ length: Math.max(taps.length, (sub >> 1) + 1) }, (_, k) => taps[k] ?? 0);
  const had = sharesByPlace(taps, sub);
  for (let k = 0; k <= sub >> 1; k++) if (had[k] === 0) out[k] = 1;
  const shares = sharesByPlace(out, sub);
  return out.map((t, k) => t / (shares[k % sub] * sub));
}

/** Places on either side over which one place is spread. */
function reachOf(slit: number, sigma: number, sub: number): number {
  return Math.ceil(sub * (slit / 2 + 0.5 + TAILS * sigma));
}

/** Profile of slit, pixel and Gaussian, `scale` times as wide, at `sub` places per pixel. */
function sampled(slit: number, sigma: number, scale: number, sub: number): Float64Array {
  const step = 1 / (sub * Math.max(scale, LEAST));
  const taps = new Float64Array(reachOf(slit, sigma, sub) + 1);
  let sum = 0;
  for (let k = 0; k < taps.length; k++) {
    taps[k] = Math.max(0, boxPixelGauss(k * step, slit, sigma));
    sum += (k === 0 ? 1 : 2) * taps[k];
  }
  return taps.map((t) => t / sum);
}

function varianceOf(taps: Float64Array): number {
  let sum = 0;
  for (let k = 1; k < taps.length; k++) sum += 2 * k * k * taps[k];
  return sum;
}

/**
 * Integral of `boxPixelGauss` up to j/256 pixels, 0…1, for |j| ≤ 256·half. The four terms fall on one grid, since the third integral mirrors as
 * B(−v) = (v² + σ²)/2 − B(v): it is evaluated once for each step.
 */
function boxPixelGaussSums(slit: number, sigma: number, half: number): (j: number) => number {
  const s = Math.max(slit, LEAST);
  const a = s / 2;
  const pixel = PHASES / 2;
  const last = half * PHASES + pixel;
  const grid = new Float64Array(2 * last + 1);
  fillBend(grid, last, a, sigma);
  const rest = sigma < LEAST ? 0 : sigma * sigma;
  const mirrored = (j: number): number => {
    const v = a - j / PHASES;
    return (v * v + rest) / 2 - grid[last - j];
  };
  return (j) => {
    const sum = grid[j + pixel + last] - grid[j - pixel + last] - mirrored(j + pixel) + mirrored(j - pixel);
    return Math.min(1, Math.max(0, sum / s));
  };
}

/**
 * grid[j + last] = bend(j/256 + a): worked out at every few steps, and between them by Hermite's cubic, since `ramp` is its slope.
 * Steps of at most σ/8 leave an error below 2e-7·σ² (h⁴/384 times the largest fourth derivative, 0.24/σ²).
 */
function fillBend(grid: Float64Array, last: number, a: number, sigma: number): void {
  let few = 1;
  while (few < 8 && (2 * few) / PHASES <= sigma / 8) few *= 2;
  const h = few / PHASES;
  let b0 = bend(-last / PHASES + a, sigma);
  let s0 = ramp(-last / PHASES + a, sigma) * h;
  for (let j = -last; j <= last; j += few) {
    const b1 = bend((j + few) / PHASES + a, sigma);
    const s1 = ramp((j + few) / PHASES + a, sigma) * h;
    for (let k = 0; k < few && j + k <= last; k++) {
      const t = k / few;
      const c = b1 - b0;
      grid[j + k + last] = b0 + t * (s0 + t * (3 * c - 2 * s0 - s1 + t * (s0 + s1 - 2 * c)));
    }
    b0 = b1;
    s0 = s1;
  }
}
