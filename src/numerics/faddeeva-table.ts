/**
 * Tables from which `faddeeva.ts` evaluates w(z) for |z| < 8 with sums and products alone, and the slow evaluation,
 * sharing nothing with the tables' use, that fills them.
 *
 * Taylor coefficients on a square grid of nodes: node (i, j) stands at z0 = (i + i·j)·CELL and serves the square
 * |Re δ|, |Im δ| ≤ CELL/2, δ = z − z0. Layout: 2·TERMS numbers per node, highest power first, re and im
 * interleaved; node offset (j·NODES + i)·2·TERMS. A node is NaN until a point first comes near it: there are a thousand, and a picture needs a tenth of them.
 *
 * Two facts keep real and imaginary part accurate separately:
 * on i = 0 the coefficients are r_n·(−i)^n with real r_n, the other component being exactly zero, so Im w ∝ x;
 * one more row of nodes, j = NODES, stands on the real axis again with the Dawson part 2i·D(z)/√π alone, purely
 * imaginary coefficients, so that Re w − Re exp(−z²) ∝ y: for thin strips where Re w is small, i ≥ SPLIT, y < STRIP.
 *
 * Behind the coefficients, from GAUSS on: exp(−(k/GAUSS_STEPS)²), k = 0 … 8·GAUSS_STEPS.
 */
import { cos, exp, pow, sin } from "./elementary/index.ts";

/** Side of a cell. */
export const CELL = 0.25;
/** |z| from which the asymptotic series takes over. */
export const RADIUS = 8;
/** Nodes along each axis: 0 … 8.25, so that every |z| < 8 rounds to a node. */
export const NODES = 34;
/** Coefficients per node: powers 0 … 14. */
export const TERMS = 15;
/** First node on the real axis that has a partner without exp(−z²). */
export const SPLIT = 11;
/** Im z below which that partner is used. */
export const STRIP = 1 / 128;
/** Offset of the table of exp(−x²) and its entries per unit of x. */
export const GAUSS = (NODES + 1) * NODES * 2 * TERMS;
export const GAUSS_STEPS = 256;

/** Nodes of the trapezoidal rule, less one; 2·10⁻¹⁵ is reached with 11 already. */
const N = 15;
const STEP = Math.sqrt(Math.PI / (N + 1));
/** exp(−t²) at the nodes of both rules: t = (k + ½)·STEP and (k + 1)·STEP. */
const MIDPOINT_WEIGHTS = Float64Array.from({ length: N + 1 }, (_, k) => exp(-pow((k + 0.5) * STEP, 2)));
const WHOLE_WEIGHTS = Float64Array.from({ length: N + 1 }, (_, k) => exp(-pow((k + 1) * STEP, 2)));

/**
 * w(z) in the first quadrant by the trapezoidal rule with its pole corrected: out[0] = Re w, out[1] = Im w.
 * Error of a few 10⁻¹⁶ of |w|. Mohd Al Azah & S. N. Chandler-Wilde, "Computation of the complex error function
 * using modified trapezoidal rules", SIAM J. Numer. Anal. 59, 2346 (2021), eqs. for w_M, w_MM and w_MT.
 */
export function faddeevaByTrapezoid(x: number, y: number, out: Float64Array): void {
  const fraction = x / STEP - Math.floor(x / STEP);
  const plain = y >= Math.max(x, Math.PI / STEP);
  const whole = !plain && y < x && fraction >= 0.25 && fraction <= 0.75;
  const uRe = x * x - y * y;
  const uIm = 2 * x * y;
  // Σ e^(−t²)·z/(z² − t²), then times 2ih/π
  const weights = whole ? WHOLE_WEIGHTS : MIDPOINT_WEIGHTS;
  const start = whole ? 1 : 0.5;
  let sRe = 0;
  let sIm = 0;
  for (let k = N; k >= 0; k--) {
    const t = (k + start) * STEP;
    const dRe = uRe - t * t;
    const weight = weights[k] / (dRe * dRe + uIm * uIm);
    // z·conj(z² − t²)
    sRe += weight * (x * dRe + y * uIm);
    sIm += weight * (y * dRe - x * uIm);
  }
  const factor = (2 * STEP) / Math.PI;
  let re = -factor * sIm;
  let im = factor * sRe;
  if (whole) {
    const r = STEP / (Math.PI * (x * x + y * y));
    re += r * y;
    im += r * x;
  }
  if (!plain) {
    // 2·e^(−z²)/(1 ± e^(−2πiz/h)), upper sign for the rule shifted by half a step
    const sign = whole ? -1 : 1;
    const grow = exp((2 * Math.PI * y) / STEP);
    const angle = (-2 * Math.PI * x) / STEP;
    const qRe = 1 + sign * grow * cos(angle);
    const qIm = sign * grow * sin(angle);
    const size = (2 * exp(y * y - x * x)) / (qRe * qRe + qIm * qIm);
    const c = cos(2 * x * y);
    const s = -sin(2 * x * y);
    re += size * (c * qRe + s * qIm);
    im += size * (s * qRe - c * qIm);
  }
  out[0] = re;
  out[1] = im;
}

let table: Float64Array | undefined;

/** The coefficients, shared; the array is not to be written to. A node whose first number is NaN must be filled by `fillNodeAt` before its use. */
export function faddeevaTable(): Float64Array {
  table ??= emptyTable();
  return table;
}

function emptyTable(): Float64Array {
  const numbers = new Float64Array(GAUSS + RADIUS * GAUSS_STEPS + 1).fill(NaN, 0, GAUSS);
  for (let k = 0; k <= RADIUS * GAUSS_STEPS; k++) numbers[GAUSS + k] = exp(-pow(k / GAUSS_STEPS, 2));
  return numbers;
}

/** Works out the coefficients of the node that begins at `offset` of the shared table. */
export function fillNodeAt(offset: number): void {
  const node = offset / (2 * TERMS);
  const row = Math.floor(node / NODES);
  fillNode(faddeevaTable(), node % NODES, row === NODES ? 0 : row, row);
}

/** Points on the circle of Cauchy's integral: aliasing stays below 10⁻¹⁶ of the largest value up to radius 2. */
const POINTS = 64;
/** cos(π m/POINTS), m = 0 … 2·POINTS − 1: all angles that the sums need. */
const COSINES = Float64Array.from({ length: 2 * POINTS }, (_, m) => cos((Math.PI * m) / POINTS));
const value = new Float64Array(2);

/** Coefficients of one node, stored in `row`, by Cauchy's integral over a circle about z0; w itself in place of the zeroth. */
function fillNode(coefficients: Float64Array, i: number, j: number, row: number): void {
  const x0 = i * CELL;
  const y0 = j * CELL;
  const dawsonOnly = row === NODES;
  // the wider circle halves the rounding of the small first coefficient, which Re w ∝ y hangs on there
  const radius = j === 0 && i >= SPLIT ? 2 : 1;
  const sums = new Float64Array(2 * TERMS);
  // point k at the angle (2k + 1)π/POINTS; sin m = cos(m − POINTS/2)
  const turn = 2 * POINTS;
  for (let k = 0; k < POINTS; k++) {
    const m = 2 * k + 1;
    const sine = COSINES[(m + turn - POINTS / 2) % turn];
    faddeevaAnywhere(x0 + radius * COSINES[m], y0 + radius * sine, dawsonOnly);
    const re = value[0];
    const im = value[1];
    for (let n = 0; n < TERMS; n++) {
      const c = COSINES[(n * m) % turn];
      const s = COSINES[(n * m + turn - POINTS / 2) % turn];
      sums[2 * n] += re * c + im * s;
      sums[2 * n + 1] += im * c - re * s;
    }
  }
  faddeevaAnywhere(x0, y0, dawsonOnly);
  sums[0] = value[0] * POINTS;
  sums[1] = value[1] * POINTS;
  // On the real axis the real part is known outright.
  if (j === 0) sums[0] = dawsonOnly ? 0 : exp(-x0 * x0) * POINTS;
  const base = (row * NODES + i) * 2 * TERMS;
  for (let n = 0; n < TERMS; n++) {
    const scale = 1 / (POINTS * pow(radius, n));
    const keepRe = i === 0 ? n % 2 === 0 : !dawsonOnly;
    const keepIm = i === 0 ? n % 2 === 1 : true;
    const at = base + 2 * (TERMS - 1 - n);
    coefficients[at] = keepRe ? sums[2 * n] * scale : 0;
    coefficients[at + 1] = keepIm ? sums[2 * n + 1] * scale : 0;
  }
}

/** w(z), or w(z) − exp(−z²), in any quadrant, into `value`; for the moderate |z| of the circles only. */
function faddeevaAnywhere(x: number, y: number, dawsonOnly: boolean): void {
  faddeevaByTrapezoid(Math.abs(x), Math.abs(y), value);
  const size = exp(y * y - x * x);
  const eRe = size * cos(2 * x * y);
  const eIm = -size * sin(2 * x * y);
  if (x < 0) value[1] = -value[1];
  if (y < 0) {
    // now `value` holds w(x + i|y|); w(x − i|y|) = 2·exp(−z²) − w(−x + i|y|)
    value[0] = 2 * eRe - value[0];
    value[1] = 2 * eIm + value[1];
  }
  if (dawsonOnly) {
    value[0] -= eRe;
    value[1] -= eIm;
  }
}
