/** The simple ancestor of the experiment: a flame or cell before an ordinary spectroscope, and the dark or bright line that it shows. */
import { exp, expm1 } from "../numerics/elementary/index.ts";
import { perAtom, type VapourState } from "../medium/index.ts";
import { linesOf } from "../reference/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { planckRadiance } from "./source.ts";

/** One layer of vapour on the way to the slit, all at one temperature. */
export interface Layer {
  readonly state: VapourState;
  /** along the light, m */
  readonly thickness: number;
}

export interface SpectroscopeInput {
  /** in the order in which the light meets them: the last one stands before the slit */
  readonly layers: readonly Layer[];
  /** brightness temperature of the lamp behind, K; undefined: no lamp, the layers shine alone */
  readonly source?: number;
  /** full width at half maximum of the instrument's blur, m of wavelength; 0 for none */
  readonly resolution: number;
}

export interface SpectroscopeView {
  /** light relative to the lamp's, or without one to a black body as hot as the hottest layer: as it reaches the slit */
  readonly light: Float64Array;
  /** the same through the instrument's blur */
  readonly seen: Float64Array;
  /** depth of the darkest or height of the brightest place seen, as a share of what stands far from the line: negative dark, positive bright; 0 without a lamp */
  readonly contrast: number;
  /** by how much the middle of an emission line stands below its own shoulders, as seen, 0…1; 0 where it is not reversed */
  readonly reversal: number;
}

/** Reach of the instrument's Gaussian, in standard deviations. */
const REACH = 4;
const FULL_WIDTH = 2 * Math.sqrt(2 * Math.LN2);

/**
 * Light through layers in local thermal equilibrium (Kirchhoff's law in each): I = B(T_lamp) e^(−Στ) + Σ B(T_k)(1 − e^(−τ_k)) e^(−Σ of the layers after).
 * A line is dark before a lamp hotter than the vapour, bright before a cooler one, and vanishes where they are alike (line reversal); a cooler mantle around a
 * hot core eats the middle out of the bright line (self-reversal). The blur is a Gaussian, folded over a grid that follows the lines' cores.
 * @param wavelengths vacuum, m
 * @throws Refusal for layers without thickness or no layer at all, or what the vapour's model refuses
 */
export function throughSpectroscope(input: SpectroscopeInput, wavelengths: Float64Array): SpectroscopeView {
  if (input.layers.length === 0 || input.layers.some(({ thickness }) => !(thickness > 0))) {
    throw new Refusal({
      code: "layer",
      field: "layer",
      received: input.layers.length === 0 ? "no layer" : "a layer without thickness",
      expected: "at least one layer of vapour with a thickness above 0 m",
    });
  }
  const light = lightAt(input, wavelengths);
  const seen = input.resolution > 0 ? blurred(input, wavelengths) : light;
  let low = 0;
  let high = 0;
  for (let i = 0; i < seen.length; i++) {
    if (seen[i] < seen[low]) low = i;
    if (seen[i] > seen[high]) high = i;
  }
  const contrast =
    input.source === undefined ? 0 : seen[high] - 1 > 1 - seen[low] ? seen[high] - 1 : seen[low] - 1;
  return { light, seen, contrast, reversal: input.source === undefined ? reversalOf(seen) : 0 };
}

function lightAt({ layers, source }: SpectroscopeInput, wavelengths: Float64Array): Float64Array {
  const hottest = Math.max(...layers.map(({ state }) => state.temperature));
  const reference = source ?? hottest;
  const out = new Float64Array(wavelengths.length).fill(source === undefined ? 0 : 1);
  for (const { state, thickness } of layers) {
    const { crossSection } = perAtom(state, wavelengths);
    for (let i = 0; i < out.length; i++) {
      const own =
        planckRadiance(wavelengths[i], state.temperature) / planckRadiance(wavelengths[i], reference);
      const absorbed = -expm1(-crossSection[i] * state.density * thickness);
      out[i] += absorbed * (own - out[i]);
    }
  }
  return out;
}

/** The light through the instrument at each wavelength: one fine grid for all, trapezium rule under the Gaussian, normalised by its own sum. */
function blurred(input: SpectroscopeInput, wavelengths: Float64Array): Float64Array {
  const sigma = input.resolution / FULL_WIDTH;
  const from = wavelengths.reduce((least, w) => Math.min(least, w), Infinity) - REACH * sigma;
  const to = wavelengths.reduce((most, w) => Math.max(most, w), 0) + REACH * sigma;
  const grid = fineGrid(input.layers, from, to, sigma / 8);
  const light = lightAt(input, grid);
  const out = new Float64Array(wavelengths.length);
  for (let k = 0; k < out.length; k++) {
    const w = wavelengths[k];
    let sum = 0;
    let weight = 0;
    for (
      let i = firstAbove(grid, w - REACH * sigma);
      i + 1 < grid.length && grid[i] < w + REACH * sigma;
      i++
    ) {
      const u = ((grid[i] + grid[i + 1]) / 2 - w) / sigma;
      const share = exp(-u * u * 0.5) * (grid[i + 1] - grid[i]);
      sum += (share * (light[i] + light[i + 1])) / 2;
      weight += share;
    }
    out[k] = sum / weight;
  }
  return out;
}

/** Even steps, and around every line of the layers' metals steps that grow from the middle, so that cores of any width are followed. */
function fineGrid(layers: readonly Layer[], from: number, to: number, step: number): Float64Array {
  const points: number[] = [];
  for (let w = from; w < to; w += step) points.push(w);
  points.push(to);
  for (const { state } of layers) {
    for (const { wavelength } of linesOf(state.element)) {
      if (wavelength < from || wavelength > to) continue;
      points.push(wavelength);
      for (let d = 1e-15; d < 40 * step; d *= 1.05) points.push(wavelength - d, wavelength + d);
    }
  }
  return Float64Array.from(points.filter((w) => w >= from && w <= to)).sort();
}

function firstAbove(grid: Float64Array, value: number): number {
  let low = 0;
  let high = grid.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (grid[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Deepest dip between two shoulders, relative to the lower of the two. */
function reversalOf(seen: Float64Array): number {
  const n = seen.length;
  const after = new Float64Array(n);
  for (let i = n - 2; i >= 0; i--) after[i] = Math.max(after[i + 1], seen[i + 1]);
  let before = 0;
  let deepest = 0;
  for (let i = 0; i < n; i++) {
    const shoulder = Math.min(before, after[i]);
    if (shoulder > 0) deepest = Math.max(deepest, 1 - seen[i] / shoulder);
    before = Math.max(before, seen[i]);
  }
  return Math.max(0, deepest);
}
