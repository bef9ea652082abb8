/** The gap that a line cuts into the picture: where half the light is left, and how far the curve has bent there. */

import { halfGap, perAtom, type VapourState } from "../medium/index.ts";

export interface LineGap {
  /** id of the line in the published table */
  readonly line: string;
  /** vacuum wavelength of the line's centre, m */
  readonly wavelength: number;
  /** distance from the centre at which half the light is left, mean of both sides, m; 0 where more passes even there */
  readonly halfGap: number;
  /** half the difference of the vapour's deflections at the two edges, blue minus red, rad: positive when dense below */
  readonly edgeDeflection: number;
}

/**
 * @param state vapour along the beam
 * @param line id and vacuum wavelength in m
 * @param columnDensity ∫N dz, m⁻²
 * @param columnGradient ∫∂N/∂y dz, m⁻³
 */
export function lineGap(
  state: VapourState,
  line: { readonly id: string; readonly wavelength: number },
  columnDensity: number,
  columnGradient: number,
): LineGap {
  const gap = halfGap(state, line.id, columnDensity);
  let edgeDeflection = 0;
  if (gap.halfGap > 0) {
    const { refractivityPerDensity } = perAtom(state, Float64Array.of(gap.blueEdge, gap.redEdge));
    edgeDeflection = ((refractivityPerDensity[0] - refractivityPerDensity[1]) / 2) * columnGradient;
  }
  return { line: line.id, wavelength: line.wavelength, halfGap: gap.halfGap, edgeDeflection };
}
