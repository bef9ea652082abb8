/** The tube turned about its axis: what a beam on the plumb line of the bench meets of a vapour that lies aslant, or upside down. */
import { cos, sin } from "../numerics/elementary/index.ts";
import type { BeamColumns } from "../vessel/index.ts";

/**
 * Columns at heights of the bench, from columns on the tube's own line of symmetry.
 *
 * A place at height y on the bench stands at (y sin ρ, y cos ρ) in the tube. By symmetry the density there is that at (0, y cos ρ) up to the square of
 * the sideways part, and its slope sideways is y sin ρ times the second derivative across, taken as minus that along the height (the vapour's potential is
 * harmonic). Upward on the bench the gradient is then G(y cos ρ) cos ρ − y sin²ρ G′(y cos ρ). The part of the bend along the level slit's image shows nothing.
 * Exact for 0° and 180°; for others good while the beam stays within about a third of the radius.
 * @param columnsAt columns at heights in the tube, ascending, m
 * @param heights on the bench, ascending, m
 * @param roll ρ, rad
 */
export function rolledColumns(
  columnsAt: (heights: Float64Array) => BeamColumns,
  heights: Float64Array,
  roll: number,
): BeamColumns {
  if (roll === 0) return columnsAt(heights);
  const cosine = cos(roll);
  const sine = sin(roll);
  const count = heights.length;
  // Heights in the tube run the other way where it is more than lying on its side.
  const inside = heights.map((_, h) => cosine * heights[cosine < 0 ? count - 1 - h : h]);
  const step = Math.max(1e-5, (Math.abs(heights[count - 1] - heights[0]) / count) * 0.5);
  const here = columnsAt(inside);
  const above = columnsAt(inside.map((y) => y + step));
  const below = columnsAt(inside.map((y) => y - step));
  const turned = (values: Float64Array): Float64Array => (cosine < 0 ? values.slice().reverse() : values);
  const gradient = (of: (columns: BeamColumns) => Float64Array): Float64Array => {
    const slope = turned(of(above).map((value, h) => (value - of(below)[h]) / (2 * step)));
    return turned(of(here)).map((value, h) => value * cosine - heights[h] * sine * sine * slope[h]);
  };
  return {
    heights,
    columnDensity: turned(here.columnDensity),
    columnGradient: gradient((columns) => columns.columnGradient),
    gasColumnGradient: gradient((columns) => columns.gasColumnGradient),
    effectiveDensity: turned(here.effectiveDensity),
    effectiveTemperature: turned(here.effectiveTemperature),
    supersaturation: turned(here.supersaturation),
  };
}
