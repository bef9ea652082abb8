/** How one point of light spreads over pixels: slit image, pixel and Gaussian blur folded exactly, as tables ready for the loops. */
import { faddeeva } from "../numerics/faddeeva.ts";

/** Parts of a pixel at which the table along the height is kept: the nearest one errs by 1/512 of a pixel at most. */
export const PHASES = 256;
/** Standard deviations at which a Gaussian is cut: 3e-7 of it lies beyond. */
const TAILS = 5;
/** Openings and blurs below this many pixels count as this much: changes the second moment by 1e-4 of a pixel's own. */
const LEAST = 0.01;
/** Halvings of the search for the width of the weights: 1e-9 of it. */
const HALVINGS = 30;

/** Table of the spread along the height, for a point p/256 of a pixel past the middle of its row. */
export interface HeightKernel {
  /** weights, [phase · taps + k], phases 0…256, tap k belonging to the row `k − half` rows further down */
  readonly table: Float32Array;
  readonly taps: number;
  readonly half: number;
  /** share of a point's light that falls on the pixel it is centred on, 1: dividing by it makes the cold line's middle 1 */
  readonly peak: number;
}

/**
 * Spread along the height: box of the slit's image ⊗ box of the pixel ⊗ Gaussian, at pixel middles; the weights of a phase sum to 1.
 * @param slit height of the slit's image, pixels, ≥ 0
 * @param sigma standard deviation of the Gaussian, pixels, ≥ 0
 */
export function heightKernel(slit: number, sigma: number): HeightKernel {
  const half = Math.ceil(slit / 2 + TAILS * sigma) + 1;
  const taps = 2 * half + 1;
  const table = new Float32Array((PHASES + 1) * taps);
  const row = new Float64Array(taps);
  for (let p = 0; p <= PHASES; p++) {
    let sum = 0;
    for (let k = 0; k < taps; k++) {
      row[k] = boxPixelGauss(k - half - p / PHASES, slit, sigma);
      sum += row[k];
    }
    for (let k = 0; k < taps; k++) table[p * taps + k] = row[k] / sum;
  }
  return { table, taps, half, peak: boxPixelGauss(0, slit, sigma) };
}

/**
 * Spread along the width for light already shared out between the two nearest columns: symmetric weights ≥ 0, index 0 = middle, both sides
 * together 1.
 *
 * Sharing out keeps the light's place and adds 1/6 to its variance (mean over places); slit, pixel and Gaussian ask for slit²/12 + 1/12 + σ². The
 * weights are the slit's and the Gaussian's profile, gathered by columns and narrowed until the sum is right: place and width of a line are
 * exact, its shape within the pixel is not. A slit and blur with less than 1/12 of a square pixel between them leave [1].
 * @param slit width of the slit's image, pixels, ≥ 0
 * @param sigma standard deviation of the Gaussian, pixels, ≥ 0
 */
export function widthTaps(slit: number, sigma: number): Float64Array {
  const wanted = (slit * slit) / 12 + sigma * sigma - 1 / 12;
  if (wanted < LEAST) return new Float64Array([1]);
  let low = 0;
  let high = 1;
  let taps = gathered(slit, sigma, high);
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    taps = gathered(slit, sigma, middle);
    if (varianceOf(taps) > wanted) high = middle;
    else low = middle;
  }
  return taps;
}

/** Profile of slit and Gaussian, `scale` times as wide, gathered by columns. */
function gathered(slit: number, sigma: number, scale: number): Float64Array {
  const s = slit * scale;
  const g = sigma * scale;
  const reach = Math.max(1, Math.ceil(slit / 2 + TAILS * sigma));
  const taps = new Float64Array(reach + 1);
  let sum = 0;
  for (let k = 0; k <= reach; k++) {
    taps[k] = Math.max(0, boxPixelGauss(k, s, g));
    sum += (k === 0 ? 1 : 2) * taps[k];
  }
  return taps.map((t) => t / sum);
}

function varianceOf(taps: Float64Array): number {
  let sum = 0;
  for (let k = 1; k < taps.length; k++) sum += 2 * k * k * taps[k];
  return sum;
}

/** Box of width `slit` folded with a box of width 1 and a Gaussian, all of area 1. */
function boxPixelGauss(u: number, slit: number, sigma: number): number {
  const s = Math.max(slit, LEAST);
  const a = s / 2;
  return (
    (ramp(u + a + 0.5, sigma) -
      ramp(u + a - 0.5, sigma) -
      ramp(u - a + 0.5, sigma) +
      ramp(u - a - 0.5, sigma)) /
    s
  );
}

/** Integral of the normal distribution up to u. */
function normal(u: number, sigma: number): number {
  if (sigma < LEAST) return u > 0 ? 1 : u < 0 ? 0 : 0.5;
  const x = Math.abs(u) / (sigma * Math.SQRT2);
  const tail = 0.5 * erfc(x);
  return u > 0 ? 1 - tail : tail;
}

/** Second integral: ∫ of `normal` up to u, that is a ramp rounded off by the Gaussian. */
function ramp(u: number, sigma: number): number {
  if (sigma < LEAST) return Math.max(0, u);
  const x = u / sigma;
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return u * normal(u, sigma) + sigma * density;
}

const scratch = new Float64Array(2);

/** Complementary error function of x ≥ 0 by w(ix) = exp(x²)·erfc(x) (DLMF 7.2.3). */
function erfc(x: number): number {
  faddeeva(0, x, scratch);
  return Math.exp(-x * x) * scratch[0];
}
