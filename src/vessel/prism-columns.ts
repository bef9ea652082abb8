/** A hollow prism with dye as columns: molecules along the light, more of them where it is thick. */
import { tan } from "../numerics/elementary/index.ts";
import type { BeamColumns, PrismContents, VesselNumbers } from "./api.ts";
import type { VapourField } from "./field.ts";

/** Distance of light at a height from the liquid's edge, m; negative where it passes beside the liquid. */
export function fromEdge(prism: PrismContents, height: number): number {
  return prism.edgeAbove ? prism.edgeDistance - height : prism.edgeDistance + height;
}

/**
 * Columns of dye molecules at heights in m, for a way of a + b h in the liquid, h the distance from its edge; default
 * that of a thin wedge, b = 2 tan(A/2). The gradient is N dl/dy: negative where the thick end is below.
 */
export function prismColumns(
  prism: PrismContents,
  heights: Float64Array,
  pathAtEdge = 0,
  pathPerDistance = 2 * tan(prism.apex / 2),
): BeamColumns {
  const level = (value: number): Float64Array => new Float64Array(heights.length).fill(value);
  return {
    heights: heights.slice(),
    columnDensity: heights.map(
      (height) => prism.density * Math.max(0, pathAtEdge + pathPerDistance * fromEdge(prism, height)),
    ),
    columnGradient: level(prism.density * (prism.edgeAbove ? -pathPerDistance : pathPerDistance)),
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
