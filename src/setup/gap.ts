/**
 * Numbers of the gap that a line cuts into the picture: where half the light is left, and how far the curve has bent
 * there. Both from the full line shape, not from the wing formulas.
 */

import { perAtom, type VapourState } from "../medium/index.ts";

export interface LineGap {
  /** id of the line in the published table */
  readonly line: string;
  /** vacuum wavelength of the line's centre, m */
  readonly wavelength: number;
  /** distance from the centre to the transmission asked for, mean of both sides, m */
  readonly halfGap: number;
  /** half the difference of the deflections at the two edges, blue minus red, rad: positive when dense below */
  readonly edgeDeflection: number;
}

/** Distances from the line that are looked at, m: 0.1 pm to 30 nm, evenly in their logarithm. */
const POINTS = 560;
const NEAREST = 1e-13;
const FARTHEST = 3e-8;

/**
 * Half-gap and edge deflection of one line in a column of vapour.
 *
 * @param state vapour along the beam
 * @param columnDensity ∫N dz, m⁻²
 * @param columnGradient ∫∂N/∂y dz, m⁻³
 * @param transmission share of light left that defines the edge, 0…1, default one half
 * @returns halfGap 0 where more than that share passes even at the centre
 */
export function lineGap(
  state: VapourState,
  line: { readonly id: string; readonly wavelength: number },
  columnDensity: number,
  columnGradient: number,
  transmission = 0.5,
): LineGap {
  const depth = Math.log(1 / transmission);
  const blue = edge(state, line.wavelength, -1, columnDensity, depth);
  const red = edge(state, line.wavelength, 1, columnDensity, depth);
  return {
    line: line.id,
    wavelength: line.wavelength,
    halfGap: (blue.distance + red.distance) / 2,
    edgeDeflection: ((blue.refractivity - red.refractivity) / 2) * columnGradient,
  };
}

interface Edge {
  readonly distance: number;
  /** (n − 1)/N there, m³ */
  readonly refractivity: number;
}

function edge(state: VapourState, centre: number, side: 1 | -1, columnDensity: number, depth: number): Edge {
  const distances = new Float64Array(POINTS);
  const step = Math.log(FARTHEST / NEAREST) / (POINTS - 1);
  for (let i = 0; i < POINTS; i++) distances[i] = NEAREST * Math.exp(i * step);
  const wavelengths = distances.map((d) => centre + side * d);
  if (side < 0) wavelengths.reverse();
  const { crossSection, refractivityPerDensity } = perAtom(state, wavelengths);
  const at = (i: number): number => (side < 0 ? POINTS - 1 - i : i);
  // From the dark core outward, the first distance at which the optical depth falls below the edge's.
  let inside = -1;
  for (let i = 0; i < POINTS; i++) {
    if (crossSection[at(i)] * columnDensity >= depth) inside = i;
    else if (inside >= 0) break;
  }
  if (inside < 0) return { distance: 0, refractivity: 0 };
  if (inside === POINTS - 1) return { distance: FARTHEST, refractivity: refractivityPerDensity[at(inside)] };
  const a = Math.log(crossSection[at(inside)] * columnDensity);
  const b = Math.log(crossSection[at(inside + 1)] * columnDensity);
  const share = (a - Math.log(depth)) / (a - b);
  const distance = distances[inside] * Math.exp(step * share);
  const exact = perAtom(state, Float64Array.of(centre + side * distance));
  return { distance, refractivity: exact.refractivityPerDensity[0] };
}
