/**
 * Sum over Voigt-shaped resonances with their counter-rotating terms, for many frequencies: the hot loop behind χ(ω).
 *
 * S(ω) = Σ_q A·[(i√π/σ) w(z) + 1/(ω_q + ω)],  z = (Δ + ih)/σ,  Δ = ω − centre.
 *
 * Beyond |z| = 100 the first term is summed straight from its series −1/(Δ + ih)·Σ (2k − 1)!!/2^k (σ/(Δ + ih))^(2k):
 * no division by σ, 3 or 5 terms, no digits lost however far the wing. Nearer points are gathered and given to the
 * Faddeeva kernel. Work goes in blocks that stay in the nearest cache.
 */
import { evaluateMany } from "./faddeeva.ts";
import { evaluateManyWithSlope } from "./faddeeva-slope.ts";
import { faddeevaTable } from "./faddeeva-table.ts";

/** Numbers per component in a packed list: ω_q, centre, half width h, Doppler 1/e half width σ > 0, amplitude A. */
export const PACKED = 5;

/** Frequencies per block. */
const BLOCK = 512;
/** |z|² from which the wing series of 5 terms is used, and that of 3. */
const WING = 1e4;
const FAR_WING = 1e6;
const SQRT_PI = Math.sqrt(Math.PI);
/** Room for the near points of a block: made once, since a search for one frequency asks some hundred times. */
const SCRATCH = {
  near: { x: new Float64Array(BLOCK), y: new Float64Array(BLOCK), w: new Float64Array(2 * BLOCK) },
  index: new Int32Array(BLOCK),
};

/**
 * Adds S(ω) of all packed components to `re` and `im`.
 *
 * @param packed `PACKED` numbers per component
 * @param omegas frequencies, any order, same unit as the components'
 * @param re length of `omegas`; must not overlap it
 * @param im likewise
 */
export function addLines(
  packed: Float64Array,
  omegas: Float64Array,
  re: Float64Array,
  im: Float64Array,
): void {
  const { near, index } = SCRATCH;
  const table = faddeevaTable();
  for (let from = 0; from < omegas.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, omegas.length);
    const low = smallest(omegas, from, to);
    const high = largest(omegas, from, to);
    for (let k = 0; k < packed.length; k += PACKED) {
      if (isFar(packed, k, low, high)) {
        addFarWings(packed, k, omegas, from, to, re, im);
        continue;
      }
      const count = addWings(packed, k, omegas, from, to, re, im, near.x, near.y, index);
      if (count === 0) continue;
      evaluateMany(near.x, near.y, count, table, near.w);
      addCores(packed, k, omegas, count, re, im, near.w, index);
    }
  }
}

function smallest(values: Float64Array, from: number, to: number): number {
  let least = values[from];
  for (let i = from + 1; i < to; i++) if (values[i] < least) least = values[i];
  return least;
}

function largest(values: Float64Array, from: number, to: number): number {
  let most = values[from];
  for (let i = from + 1; i < to; i++) if (values[i] > most) most = values[i];
  return most;
}

/** Whether every frequency of a block lies in the far wing of a component. */
function isFar(packed: Float64Array, k: number, low: number, high: number): boolean {
  const centre = packed[k + 1];
  const half = packed[k + 2];
  const sigma = packed[k + 3];
  const d = low > centre ? low - centre : high < centre ? centre - high : 0;
  return d * d + half * half >= FAR_WING * sigma * sigma;
}

/** One component in a block that lies in its far wing altogether: the loop that most of the work is in. */
function addFarWings(
  packed: Float64Array,
  k: number,
  omegas: Float64Array,
  from: number,
  to: number,
  re: Float64Array,
  im: Float64Array,
): void {
  const own = packed[k];
  const centre = packed[k + 1];
  const half = packed[k + 2];
  const amplitude = packed[k + 4];
  const s2 = packed[k + 3] * packed[k + 3];
  const twiceS2 = 2 * s2;
  const h2 = half * half;
  for (let i = from; i < to; i++) {
    const omega = omegas[i];
    const d = omega - centre;
    const r2 = d * d + h2;
    const sum = own + omega;
    const both = 1 / (r2 * sum);
    const inverse = both * sum;
    const u = d * inverse;
    const v = half * inverse;
    const p = s2 * ((u - v) * (u + v));
    const q = twiceS2 * (u * v);
    const sRe = 1 + p * (0.5 + 0.75 * p) - 0.75 * q * q;
    const sIm = q * (0.5 + 1.5 * p);
    re[i] += amplitude * (both * r2 - (u * sRe - v * sIm));
    im[i] += amplitude * (v * sRe + u * sIm);
  }
}

/** The far points of one component in one block; the near ones go to x, y, index. Returns how many those are. */
function addWings(
  packed: Float64Array,
  k: number,
  omegas: Float64Array,
  from: number,
  to: number,
  re: Float64Array,
  im: Float64Array,
  x: Float64Array,
  y: Float64Array,
  index: Int32Array,
): number {
  const own = packed[k];
  const centre = packed[k + 1];
  const half = packed[k + 2];
  const sigma = packed[k + 3];
  const amplitude = packed[k + 4];
  const s2 = sigma * sigma;
  const twiceS2 = 2 * s2;
  const wing = WING * s2;
  const farWing = FAR_WING * s2;
  const h2 = half * half;
  const perSigma = 1 / sigma;
  const height = half * perSigma;
  let count = 0;
  for (let i = from; i < to; i++) {
    const omega = omegas[i];
    const d = omega - centre;
    const r2 = d * d + h2;
    if (r2 < wing) {
      x[count] = d * perSigma;
      y[count] = height;
      index[count++] = i;
      continue;
    }
    // one division for both: 1/r2 and 1/(ω_q + ω)
    const sum = own + omega;
    const both = 1 / (r2 * sum);
    const inverse = both * sum;
    // 1/(Δ + ih) = u − i·v, σ²/(Δ + ih)² = p − i·q
    const u = d * inverse;
    const v = half * inverse;
    const p = s2 * ((u - v) * (u + v));
    const q = twiceS2 * (u * v);
    let sRe: number;
    let sIm: number;
    if (r2 >= farWing) {
      sRe = 1 + p * (0.5 + 0.75 * p) - 0.75 * q * q;
      sIm = q * (0.5 + 1.5 * p);
    } else {
      const t2 = p * p - q * q;
      const s = 2 * p * q;
      sRe = 1 + 0.5 * p + 0.75 * t2 + 1.875 * (t2 * p - s * q) + 6.5625 * (t2 * t2 - s * s);
      sIm = 0.5 * q + 0.75 * s + 1.875 * (t2 * q + s * p) + 6.5625 * (2 * t2 * s);
    }
    re[i] += amplitude * (both * r2 - (u * sRe - v * sIm));
    im[i] += amplitude * (v * sRe + u * sIm);
  }
  return count;
}

/** Adds the near points of one component from their w(z). */
function addCores(
  packed: Float64Array,
  k: number,
  omegas: Float64Array,
  count: number,
  re: Float64Array,
  im: Float64Array,
  w: Float64Array,
  index: Int32Array,
): void {
  const own = packed[k];
  const amplitude = packed[k + 4];
  const core = (amplitude * SQRT_PI) / packed[k + 3];
  for (let n = 0; n < count; n++) {
    const i = index[n];
    re[i] += amplitude / (own + omegas[i]) - core * w[2 * n + 1];
    im[i] += core * w[2 * n];
  }
}

/** As `addLines`, and adds dS/dω to `slopeRe` and `slopeIm`. */
export function addLinesWithSlope(
  packed: Float64Array,
  omegas: Float64Array,
  re: Float64Array,
  im: Float64Array,
  slopeRe: Float64Array,
  slopeIm: Float64Array,
): void {
  const x = new Float64Array(BLOCK);
  const y = new Float64Array(BLOCK);
  const w = new Float64Array(4 * BLOCK);
  const index = new Int32Array(BLOCK);
  const table = faddeevaTable();
  for (let from = 0; from < omegas.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, omegas.length);
    for (let k = 0; k < packed.length; k += PACKED) {
      const count = addWings(packed, k, omegas, from, to, re, im, x, y, index);
      addWingSlopes(packed, k, omegas, from, to, slopeRe, slopeIm);
      if (count === 0) continue;
      evaluateManyWithSlope(x, y, count, table, w);
      addCoresWithSlope(packed, k, omegas, count, re, im, slopeRe, slopeIm, w, index);
    }
  }
}

/** dS/dω of the far points of one component: (A/(Δ + ih)²)·Σ (2k + 1) a_k (σ/(Δ + ih))^(2k) − A/(ω_q + ω)². */
function addWingSlopes(
  packed: Float64Array,
  k: number,
  omegas: Float64Array,
  from: number,
  to: number,
  slopeRe: Float64Array,
  slopeIm: Float64Array,
): void {
  const own = packed[k];
  const centre = packed[k + 1];
  const half = packed[k + 2];
  const s2 = packed[k + 3] * packed[k + 3];
  const amplitude = packed[k + 4];
  const wing = WING * s2;
  const h2 = half * half;
  for (let i = from; i < to; i++) {
    const omega = omegas[i];
    const d = omega - centre;
    const r2 = d * d + h2;
    if (r2 < wing) continue;
    const sum = own + omega;
    const both = 1 / (r2 * sum);
    const inverse = both * sum;
    const counter = both * r2;
    const u = d * inverse;
    const v = half * inverse;
    // 1/(Δ + ih)² = a + i·b, times σ² it is p + i·q
    const a = (u - v) * (u + v);
    const b = -2 * u * v;
    const p = s2 * a;
    const q = s2 * b;
    const t2 = p * p - q * q;
    const s = 2 * p * q;
    const sRe = 1 + 1.5 * p + 3.75 * t2 + 13.125 * (t2 * p - s * q) + 59.0625 * (t2 * t2 - s * s);
    const sIm = 1.5 * q + 3.75 * s + 13.125 * (t2 * q + s * p) + 59.0625 * (2 * t2 * s);
    slopeRe[i] += amplitude * (a * sRe - b * sIm - counter * counter);
    slopeIm[i] += amplitude * (a * sIm + b * sRe);
  }
}

/** Near points with slope: `w` holds Re w, Im w, Re w′, Im w′ per point. */
function addCoresWithSlope(
  packed: Float64Array,
  k: number,
  omegas: Float64Array,
  count: number,
  re: Float64Array,
  im: Float64Array,
  slopeRe: Float64Array,
  slopeIm: Float64Array,
  w: Float64Array,
  index: Int32Array,
): void {
  const own = packed[k];
  const amplitude = packed[k + 4];
  const core = (amplitude * SQRT_PI) / packed[k + 3];
  const steep = core / packed[k + 3];
  for (let n = 0; n < count; n++) {
    const i = index[n];
    const counter = 1 / (own + omegas[i]);
    re[i] += amplitude * counter - core * w[4 * n + 1];
    im[i] += core * w[4 * n];
    slopeRe[i] -= steep * w[4 * n + 3] + amplitude * counter * counter;
    slopeIm[i] += steep * w[4 * n + 2];
  }
}
