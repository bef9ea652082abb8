/** Where the light went, wavelength by wavelength: recorded, absorbed, bent out, cut, lost. Every share of the beam is in one place only. */
import type { CurveBundle, ImageScale, SpectralMap } from "../path/api.ts";
import { type BeamEdges, missedEdge } from "../path/through-bench.ts";
import { type Fate, FATES } from "./fates.ts";
import type { Sensor } from "./light.ts";

/** Edges that light can miss and other losses. What is left out has no edge and loses nothing. */
export interface LedgerEdges extends BeamEdges {
  /** heights of the bundle's curves above the tube's axis, m: needed for wall and lens */
  readonly heights?: Float64Array;
  /** direction of the beam itself against the axis, rad, at each wavelength; default along the axis */
  readonly direction?: Float64Array;
  /** share of light that fog and smoke leave, 1, at every wavelength; default 1 */
  readonly fog?: number;
  /** share of light that lenses and windows leave at each wavelength, 1; default 1 */
  readonly glass?: Float64Array;
  /** the same for the disperser */
  readonly disperser?: Float64Array;
  /** size of each colour on the sensor over that of the one in focus; default all alike */
  readonly sizes?: Float64Array;
}

export interface Ledger {
  readonly wavelengths: Float64Array;
  /** share of the light that came in, per fate; each of length n; together 1 at every wavelength */
  readonly shares: Readonly<Record<Fate, Float64Array>>;
}

/**
 * Ledger of the beam in the small-angle picture: a curve bent by θ leaves the tube θ·toWindow higher, meets the lens θ·distance higher and the plumb
 * slit at F·θ. Light that the fates before have taken is not there for the next.
 * Sum over fates = 1 at every wavelength within rounding (1e-15).
 */
export function ledger(
  bundle: CurveBundle,
  scale: ImageScale,
  sensor: Sensor,
  edges: LedgerEdges = {},
): Ledger {
  const { wavelengths, weights, deflection, transmission } = bundle;
  const n = wavelengths.length;
  const shares = Object.fromEntries(FATES.map((fate) => [fate, new Float64Array(n)])) as Record<
    Fate,
    Float64Array
  >;
  const half = (sensor.rows * sensor.pixel) / 2;
  const fog = edges.fog ?? 1;
  for (let h = 0; h < weights.length; h++) {
    const height = edges.heights?.[h] ?? 0;
    for (let i = 0; i < n; i++) {
      const angle = deflection[h * n + i] + (edges.direction?.[i] ?? 0);
      let light = weights[h] * transmission[h * n + i];
      shares.absorbed[i] += weights[h] - light;
      shares.fog[i] += light * (1 - fog);
      light *= fog;
      const fate = missedEdge(angle, height, edges);
      if (fate !== null) {
        shares[fate][i] += light;
        continue;
      }
      const clear = light * (edges.glass?.[i] ?? 1);
      const left = clear * (edges.disperser?.[i] ?? 1);
      shares.glass[i] += light - clear;
      shares.disperser[i] += clear - left;
      const seen = angle * scale.perRadian * (edges.sizes?.[i] ?? 1);
      shares[Math.abs(seen) > half ? "sensor" : "recorded"][i] += left;
    }
  }
  return { wavelengths, shares };
}

/** Where the middle between each wavelength and the next falls on the sensor, m. */
function middles(wavelengths: Float64Array, map: SpectralMap): Float64Array {
  const at = Float64Array.from(
    { length: wavelengths.length - 1 },
    (_, i) => (wavelengths[i] + wavelengths[i + 1]) / 2,
  );
  map.positions(at, at);
  return at;
}

/** Light of each fate over the sensor's width, as shares of all that came in there (weighted by wavelength). */
export function ledgerTotals(book: Ledger, map: SpectralMap, sensor: Sensor): Readonly<Record<Fate, number>> {
  const half = (sensor.columns * sensor.pixel) / 2;
  const { wavelengths, shares } = book;
  const totals = Object.fromEntries(FATES.map((fate) => [fate, 0])) as Record<Fate, number>;
  let all = 0;
  const between = middles(wavelengths, map);
  for (let i = 0; i + 1 < wavelengths.length; i++) {
    const x = between[i];
    if (Math.abs(x) > half) continue;
    const span = wavelengths[i + 1] - wavelengths[i];
    all += span;
    for (const fate of FATES) totals[fate] += (span * (shares[fate][i] + shares[fate][i + 1])) / 2;
  }
  for (const fate of FATES) totals[fate] = all > 0 ? totals[fate] / all : 0;
  return totals;
}

/** Shares of each column of a picture, stacked. */
export interface ColumnShares {
  readonly columns: number;
  /** [c · FATES.length + f]: share of column c that met fate f or a later one, 1: from recorded light, at the bottom of the stack, up to the first fate */
  readonly upTo: Float64Array;
  /** 1 where light falls on the column, 0 where nothing is known of it */
  readonly lit: Uint8Array;
}

/** The ledger by columns of the sensor: each takes the wavelengths that fall on it, weighted by what they span. */
export function columnShares(book: Ledger, map: SpectralMap, sensor: Sensor): ColumnShares {
  const { columns, pixel } = sensor;
  const count = FATES.length;
  const upTo = new Float64Array(columns * count);
  const spans = new Float64Array(columns);
  const { wavelengths } = book;
  const shares = FATES.map((fate) => book.shares[fate]);
  const between = middles(wavelengths, map);
  for (let i = 0; i + 1 < wavelengths.length; i++) {
    const x = between[i] / pixel + columns / 2;
    if (!(x >= 0 && x < columns)) continue;
    const c = Math.floor(x);
    const span = wavelengths[i + 1] - wavelengths[i];
    spans[c] += span;
    for (let f = 0; f < count; f++) upTo[c * count + f] += (span * (shares[f][i] + shares[f][i + 1])) / 2;
  }
  const lit = new Uint8Array(columns);
  for (let c = 0; c < columns; c++) {
    if (spans[c] === 0) continue;
    lit[c] = 1;
    let sum = 0;
    for (let f = count - 1; f >= 0; f--) {
      sum += upTo[c * count + f] / spans[c];
      upTo[c * count + f] = sum;
    }
  }
  return { columns, upTo, lit };
}
