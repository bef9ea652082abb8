/** A hollow prism with dye as columns that the rest of the chain takes: molecules along the light, more of them where it is thick. */
import { Refusal } from "../quantity/refusal.ts";
import type { BeamColumns, PrismContents, VesselNumbers } from "./api.ts";
import type { VapourField } from "./field.ts";
import { throughWedge, type WedgePassage } from "./wedge.ts";

/** How light of the solvent's index in the middle of the picture passes; refuses a prism that lets none through. */
export function prismPassage(prism: PrismContents): WedgePassage {
  const passage = throughWedge(prism, prism.solventIndex, prism.wallIndex);
  if (passage !== undefined) return passage;
  throw new Refusal({
    code: "no-light-through-prism",
    field: "vessel.apex",
    received: `${prism.apex} rad, at which the light is totally reflected`,
    expected: "an apex angle and an incidence at which light passes both faces",
  });
}

/** Distance of light at a height from the liquid's edge, m; negative where it passes beside the liquid. */
export function fromEdge(prism: PrismContents, height: number): number {
  return prism.edgeAbove ? prism.edgeDistance - height : prism.edgeDistance + height;
}

/**
 * Columns of dye molecules at heights in m, by the solvent's index in the middle of the picture; the gradient is the
 * thin prism's, N dl/dy, negative where the thick end is below.
 */
export function prismColumns(prism: PrismContents, heights: Float64Array): BeamColumns {
  const { pathAtEdge, pathPerDistance } = prismPassage(prism);
  const slope = prism.edgeAbove ? -pathPerDistance : pathPerDistance;
  const path = heights.map((height) => {
    const length = pathAtEdge + pathPerDistance * fromEdge(prism, height);
    return Math.max(0, length);
  });
  const level = (value: number): Float64Array => new Float64Array(heights.length).fill(value);
  return {
    heights: heights.slice(),
    columnDensity: path.map((length) => length * prism.density),
    columnGradient: level(slope * prism.density),
    gasColumnGradient: level(0),
    effectiveDensity: level(prism.density),
    effectiveTemperature: level(prism.temperature),
    supersaturation: level(0),
  };
}

/** Numbers of a solution: what belongs to a vapour in its gas is 0. */
export function prismNumbers(field: VapourField, prism: PrismContents, height: number): VesselNumbers {
  return {
    height,
    density: prism.density,
    gasTemperature: prism.temperature,
    gasPartialPressure: 0,
    densityGradient: 0,
    scaleHeight: Infinity,
    hotPressure: field.pressure,
    supersaturation: 0,
    midSupersaturation: 0,
    saturatedDensity: prism.density,
    saturatedGradient: 0,
    rayleigh: 0,
    knudsen: 0,
    evaporation: 0,
    solidLoss: 0,
    chargeLife: null,
    warnings: [],
  };
}
