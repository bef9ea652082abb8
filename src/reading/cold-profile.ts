/** The undeflected line's image and the slopes of its light: parameters offset, slope, bend, width, blur, background, scale. */
import type { BandPixels } from "./band-pixels.ts";
import { PHASES, type SlitTable, slitSlopeTable, slitTable, tableValue } from "./slit-tables.ts";
import { type StoredLight, storedSlopes } from "./stored-light.ts";

/** Number of the line's parameters. */
export const LINE_PARAMETERS = 7;

/** Height of the line at U. */
export function lineAt(p: Float64Array, u: number): number {
  return p[0] + u * (p[1] + u * p[2]);
}

function blurOf(p: Float64Array): {
  slitHeight: number;
  sigmaHeight: number;
  slitWidth: number;
  sigmaWidth: number;
} {
  return { slitHeight: p[3], sigmaHeight: p[4], slitWidth: 1, sigmaWidth: 1 };
}

export function tableOf(p: Float64Array): SlitTable {
  return slitTable(blurOf(p));
}

/** Light of the line at each pixel's place along the spectrum, before the scale. */
export function lightAlong(spectrum: Float64Array, { along, count }: BandPixels): Float64Array {
  const half = spectrum.length / 2;
  const last = spectrum.length - 1;
  const light = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = Math.min(Math.max(along[i] + half - 0.5, 0), last);
    const c = Math.min(at | 0, last - 1);
    light[i] = spectrum[c] + (at - c) * (spectrum[c + 1] - spectrum[c]);
  }
  return light;
}

/** Writes the line's light on its pixels, background included; `light` as `lightAlong` gives it. */
export function drawLine(
  { along, height, count }: BandPixels,
  light: Float64Array,
  p: Float64Array,
  out: Float64Array,
): void {
  const { shape, reach } = tableOf(p);
  const top = shape.length - 1;
  for (let i = 0; i < count; i++) {
    const x = (height[i] - lineAt(p, along[i]) + reach) * PHASES;
    out[i] = p[6] * light[i] * tableValue(shape, x, top) + p[5];
  }
}

/** A line's pixels and what is known of their light. */
export interface LinePixels {
  readonly pixels: BandPixels;
  /** light of the line at each pixel's place along the spectrum, before the scale */
  readonly light: Float64Array;
  /** noise per light, and what the file made of the light */
  readonly perLight: number;
  readonly stored: StoredLight;
}

/** Adds the products of the weighted residuals' slopes with each other, (j, i) with i ≤ j at j · 7 + i, and with the residuals. */
export function addProducts(
  { pixels, light, perLight, stored }: LinePixels,
  p: Float64Array,
  residuals: Float64Array,
  { sigma, rootWeights }: { readonly sigma: Float64Array; readonly rootWeights: Float64Array | null },
  gram: Float64Array,
  moment: Float64Array,
): void {
  const m = pixels.count;
  const { along, height } = pixels;
  const { shape, reach } = tableOf(p);
  const byWidth = slitSlopeTable(blurOf(p), "slitHeight").shape;
  const bySigma = slitSlopeTable(blurOf(p), "sigmaHeight").shape;
  const top = shape.length - 1;
  const byLight = new Float64Array(m);
  const byDark = new Float64Array(m);
  for (let i = 0; i < m && stored.step > 0; i++) {
    const x = (height[i] - lineAt(p, along[i]) + reach) * PHASES;
    byLight[i] = p[6] * light[i] * tableValue(shape, x, top);
  }
  storedSlopes(byLight, 1, p[5], perLight, stored, byLight, byDark);
  const n = LINE_PARAMETERS;
  const row = new Float64Array(n);
  gram.fill(0);
  moment.fill(0);
  for (let i = 0; i < m; i++) {
    const u = along[i];
    const x = (height[i] - lineAt(p, u) + reach) * PHASES;
    const inside = x > 0 && x < top;
    const k = inside ? x | 0 : 0;
    const f = x - k;
    const rise = inside ? shape[k + 1] - shape[k] : 0;
    const root = rootWeights === null ? 1 : rootWeights[i];
    const weight = root / sigma[i];
    const lit = byLight[i] * light[i] * weight;
    const full = p[6] * lit;
    const fall = -full * rise * PHASES;
    row[0] = fall;
    row[1] = fall * u;
    row[2] = fall * u * u;
    row[3] = inside ? full * (byWidth[k] + f * (byWidth[k + 1] - byWidth[k])) : 0;
    row[4] = inside ? full * (bySigma[k] + f * (bySigma[k + 1] - bySigma[k])) : 0;
    row[5] = byDark[i] * weight;
    row[6] = inside ? lit * (shape[k] + f * rise) : 0;
    const rest = residuals[i] * root;
    for (let b = 0; b < n; b++) {
      const slope = row[b];
      if (slope === 0) continue;
      moment[b] += slope * rest;
      for (let a = 0; a <= b; a++) gram[b * n + a] += slope * row[a];
    }
  }
}
