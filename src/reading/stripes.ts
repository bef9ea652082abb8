/** Stretches of the spectrum that smoke, dust or a shadow dims in the hot picture alone: found by their missing light. */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { alongAt, type Geometry, turnedBy } from "./geometry.ts";
import type { NoiseModel } from "./noise.ts";
import type { PixelFit } from "./pixel-fit.ts";
import type { Prepared } from "./prepare.ts";
import { storeLight } from "./stored-light.ts";

export interface Stripes {
  /** number of dimmed (or brightened) columns along the spectrum */
  readonly count: number;
  /** their pixels, indices into the frame */
  readonly pixels: readonly number[];
  /** largest share of the light missing in such columns beside or in a line's own gap; 0 where none lies there */
  readonly lossBeside: number;
}

/** Columns summed together, so that narrow and wide stripes are seen alike. */
const WINDOWS = [3, 9, 27];
/** A stripe stands out by so many standard deviations and by so much of the light; beside a gap the model is less sure. */
const SIGNIFICANT = 6;
const SHARE = 0.01;
const SHARE_BESIDE = 0.04;
/** What is left of the light in the model below which nothing is said, share of its median. */
const DARK = 0.25;
/** More than this share of the columns is no stripe. */
const MOST = 0.55;

/**
 * Sums the light over each place along the spectrum and compares it with the model's sum, which does not mind a curve
 * drawn a little too high or low. A slow drift of the lamp's colours (a parabola) is no stripe.
 * @param image the model without background, of the whole frame
 * @param band indices of the pixels near the light
 */
export function stripesOf(
  prepared: Prepared,
  noise: NoiseModel,
  fit: PixelFit,
  image: Float64Array,
  band: Int32Array,
): Stripes {
  const { hot, assignment, stored } = prepared;
  const { background } = fit.values;
  // Faint light that coarse counts lose all along a curve is no smoke.
  const kept = stored.step > 0 ? Float64Array.from(band, (i) => image[i] + background) : null;
  if (kept !== null) storeLight(kept, background, noise.perLight, stored);
  const n = hot.columns;
  const geometry: Geometry = { columns: n, rows: hot.rows, roll: fit.values.roll, smile: fit.values.smile };
  const light = new Float64Array(n);
  const model = new Float64Array(n);
  const variance = new Float64Array(n);
  const turned = turnedBy(geometry);
  const slots = new Int32Array(band.length);
  for (let k = 0; k < band.length; k++) {
    const i = band[k];
    slots[k] = Math.floor(alongAt(turned, (i % n) + 0.5, Math.floor(i / n) + 0.5) + n / 2);
  }
  for (let k = 0; k < band.length; k++) {
    const i = band[k];
    const c = slots[k];
    if (c < 0 || c >= n) continue;
    // Just below full scale half of the noise is cut off, which looks like smoke.
    const reach = 4 * Math.sqrt(noise.floor + noise.perLight * image[i]);
    if (hot.saturatedCount > 0 && image[i] + background + reach > hot.ceiling) continue;
    light[c] += hot.light[i] - background;
    model[c] += kept === null ? image[i] : kept[k] - background;
    variance[c] += (noise.floor + noise.perLight * image[i]) * noise.correlation;
  }
  const median = Float64Array.from(model).sort()[n >> 1];
  const known = Uint8Array.from(model, (v) => (v > DARK * median ? 1 : 0));
  const off = model.map((m, c) => (known[c] === 1 ? light[c] / m - 1 : 0));
  const sigma = model.map((m, c) => (known[c] === 1 ? Math.sqrt(variance[c]) / m : Number.POSITIVE_INFINITY));
  takeDriftOff(off, sigma);
  const beside = Uint8Array.from({ length: n }, (_, c) =>
    assignment.pairs.some(({ gap }) => Math.abs(c + 0.5 - n / 2 - gap.along) < 5 * gap.halfWidth) ? 1 : 0,
  );
  const dimmed = new Uint8Array(n);
  for (const window of WINDOWS) flag(off, sigma, beside, window, dimmed);
  if (hot.saturatedCount > 0)
    for (const { gap } of assignment.pairs) spareGap(dimmed, gap.along + n / 2, gap.halfWidth);
  const count = dimmed.reduce((a, b) => a + b, 0);
  if (count === 0 || count > MOST * n) return { count: 0, pixels: [], lossBeside: 0 };
  const pixels: number[] = [];
  for (let k = 0; k < band.length; k++) {
    const c = slots[k];
    if (c >= 0 && c < n && dimmed[c] === 1) pixels.push(band[k]);
  }
  let lossBeside = 0;
  for (let c = 0; c < n; c++)
    if (dimmed[c] === 1 && beside[c] === 1) lossBeside = Math.max(lossBeside, Math.min(Math.abs(off[c]), 1));
  return { count, pixels, lossBeside };
}

/**
 * A model with too little vapour leaves both flanks of a gap too bright: no smoke, and without its flanks a density is not
 * known at all. Where both stand out in an overexposed picture they are left in.
 */
function spareGap(dimmed: Uint8Array, middle: number, halfWidth: number): void {
  const reach = 5 * halfWidth;
  const share = (from: number, to: number): number => {
    const part = dimmed.subarray(Math.max(0, Math.floor(from)), Math.max(0, Math.ceil(to)));
    return part.length === 0 ? 0 : part.reduce((a, b) => a + b, 0) / part.length;
  };
  const near = 3 * halfWidth;
  if (share(middle - near, middle) < 0.3 || share(middle, middle + near) < 0.3) return;
  dimmed.fill(0, Math.max(0, Math.floor(middle - reach)), Math.max(0, Math.ceil(middle + reach)));
}

/**
 * Takes a parabola through the undimmed columns off. Smoke, dust and shadows only take light: columns are clipped away from
 * below first, so that stripes over a third of the picture do not draw the parabola down; the last pass is even-handed.
 */
function takeDriftOff(off: Float64Array, sigma: Float64Array): void {
  const n = off.length;
  const x = Float64Array.from({ length: n }, (_, c) => (2 * c) / (n - 1) - 1);
  const all = [...off.keys()].filter((c) => Number.isFinite(sigma[c]));
  let kept = all;
  for (let pass = 0; pass < 9 && kept.length > 12; pass++) {
    const fit = linearLeastSquares(
      [0, 1, 2].map((k) => Float64Array.from(kept, (c) => x[c] ** k)),
      Float64Array.from(kept, (c) => off[c]),
      Float64Array.from(kept, (c) => Math.hypot(sigma[c], 0.01)),
    );
    const [a, b, d] = fit.parameters;
    const rest = (c: number): number => off[c] - a - x[c] * (b + x[c] * d);
    if (pass === 8) {
      for (let c = 0; c < n; c++) if (Number.isFinite(sigma[c])) off[c] = rest(c);
      return;
    }
    const sizes = Float64Array.from(kept, (c) => Math.abs(rest(c))).sort();
    const noise = Float64Array.from(kept, (c) => sigma[c]).sort()[kept.length >> 1];
    const typical = Math.max(1.4826 * sizes[sizes.length >> 1], noise);
    const below = pass < 6 ? 1.5 : 3;
    const next = (pass < 6 ? kept : all).filter((c) => rest(c) >= -below * typical && rest(c) <= 3 * typical);
    kept = next.length > 0.15 * n ? next : kept;
  }
}

/** Marks windows whose mean stands out, and as far on either side as the light is still visibly off. */
function flag(
  off: Float64Array,
  sigma: Float64Array,
  beside: Uint8Array,
  window: number,
  dimmed: Uint8Array,
): void {
  const n = off.length;
  const half = window >> 1;
  const meanAt = (c: number, reach: number): { mean: number; sigma: number } => {
    let sum = 0;
    let weight = 0;
    for (let k = Math.max(0, c - reach); k <= Math.min(n - 1, c + reach); k++) {
      if (!Number.isFinite(sigma[k])) continue;
      const w = 1 / (sigma[k] * sigma[k]);
      sum += w * off[k];
      weight += w;
    }
    return weight > 0 ? { mean: sum / weight, sigma: 1 / Math.sqrt(weight) } : { mean: 0, sigma: 1 };
  };
  for (let c = 0; c < n; c++) {
    if (!Number.isFinite(sigma[c])) continue;
    const { mean, sigma: own } = meanAt(c, half);
    const share = beside[c] === 1 ? SHARE_BESIDE : SHARE;
    if (Math.abs(mean) < share || Math.abs(mean) < SIGNIFICANT * own) continue;
    const sign = Math.sign(mean);
    const still = (k: number): boolean => {
      const near = meanAt(k, 2);
      return sign * near.mean > Math.max(2 * near.sigma, 0.003);
    };
    let from = c - half;
    let to = c + half;
    while (from > 0 && c - from < 3 * window && still(from - 1)) from--;
    while (to < n - 1 && to - c < 3 * window && still(to + 1)) to++;
    [from, to] = [Math.max(0, from), Math.min(n - 1, to)];
    // A strong stripe moves the mean of a window far wider than itself; a faint one shows in no column of its own.
    let shown = 0;
    for (let k = from; k <= to; k++) if (still(k)) shown++;
    const whole = shown < (to - from) / 3;
    for (let k = from; k <= to; k++) if (whole || still(k)) dimmed[k] = 1;
  }
}
