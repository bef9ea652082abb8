/** Cells along the spectrum: short where the curve is strongly bent, long where it runs straight. */
import { atomWavelength, type CurveSetting } from "./curve-model.ts";
import { evaluateTables } from "./line-tables.ts";

/** A cell's length over its distance from the line: a chord across it then lies 1/(6·40²) = 1e-4 of the deflection beside the curve. */
const SHARE = 1 / 40;
/** Longest and shortest cell beside a line, pixels. */
const LONGEST_BESIDE = 0.2;
const SHORTEST_BESIDE = 0.01;
/** Where less than this is left of the light, the curve is not seen. */
const DARK = 1e-3;
/** Growth of the distances at which the darkness is asked for. */
const GROWTH = 1.15;

/**
 * Cell borders: a fortieth of the distance from the nearest line, up to `coarsest` far away; beside each line not below its own `finest`.
 * @param lines places, pixels
 * @param finest pixels, one for each line
 * @param grain 1, or more for a first look: all cells so many times longer, up to `coarsest`
 */
export function cellNodes(
  lines: readonly number[],
  finest: readonly number[],
  from: number,
  to: number,
  coarsest: number,
  grain = 1,
): Float64Array {
  const nodes = [from];
  let u = from;
  while (u < to) {
    let length = Number.POSITIVE_INFINITY;
    for (let l = 0; l < lines.length; l++)
      length = Math.min(length, Math.max(Math.abs(u - lines[l]) * SHARE, finest[l]));
    u += Math.min(grain * length, coarsest);
    nodes.push(u);
  }
  return Float64Array.from(nodes);
}

/** Cells of a first look. */
export function roughCells(lines: readonly number[]): number[] {
  return lines.map(() => LONGEST_BESIDE);
}

/**
 * Shortest cells beside each line, pixels: a fortieth of the half width over which its gap is black, within 0.01 to 0.2.
 * Where the gap is narrow, light comes from close to the line, where the curve is steepest and bends most.
 */
export function finestCells(
  setting: Pick<CurveSetting, "anchors" | "wavelengthAt" | "tables" | "heatedLength">,
  places: readonly number[],
  column: number,
): number[] {
  const distances: number[] = [];
  for (let d = SHORTEST_BESIDE / SHARE; d < LONGEST_BESIDE / SHARE; d *= GROWTH) distances.push(d);
  const n = distances.length;
  const sigma = new Float64Array(2 * n);
  const unused = new Float64Array(2 * n);
  const strengths = setting.tables.lines.map(() => 1);
  return places.map((place) => {
    const wavelengths = Float64Array.from({ length: 2 * n }, (_, i) =>
      atomWavelength(setting, places, place + (i < n ? -distances[i] : distances[i - n])),
    );
    const density = column / setting.heatedLength;
    evaluateTables(setting.tables, wavelengths, strengths, density, unused, sigma, new Float64Array(2 * n));
    const lit = distances.findIndex((_, i) => Math.exp(-Math.min(sigma[i], sigma[n + i]) * column) > DARK);
    const dark = lit < 0 ? LONGEST_BESIDE / SHARE : distances[Math.max(lit - 1, 0)];
    return Math.min(Math.max(dark * SHARE, SHORTEST_BESIDE), LONGEST_BESIDE);
  });
}
