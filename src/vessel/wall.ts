/** The wall as the solver sees it: for each wall face, the temperatures it holds and their shares of the face. */
import { pow } from "../numerics/elementary/index.ts";
import { type PolarGrid, sectorAngle } from "../numerics/polar-grid.ts";
import type { VesselInput } from "./api.ts";

/**
 * A face may straddle the edge of a region; it then holds several temperatures, each with its share of the face.
 * Arrays are [(k · angular + j) · count + s]; the shares of a face sum to 1.
 */
export interface WallMap {
  readonly count: number;
  /** K */
  readonly temperature: Float64Array;
  readonly share: Float64Array;
  /** temperature of the windows, K */
  readonly window: number;
}

/** Arc over which the hot strip passes into the top, in bores: 0.2 rad. */
export const STRIP_EDGE = 0.1;
/** Length over which the heated length passes into the ends, in bores. */
export const LENGTH_EDGE = 0.5;

/**
 * Measured wall: `bottom` on the hot strip, `top` on the rest of the heated length, `ends` beyond it and on the
 * windows. Between regions the shares pass linearly from one to the other, centred on the stated edge: around the
 * strip over an arc of a tenth of the bore, at the ends of the heated length over half a bore (less where the tube is
 * hardly longer than its heated length). What is mixed by these shares is the driving potential (of heat, of vapour),
 * not the temperature, so that columns keep the values of the sharp step (the first harmonic loses 0.2 %) while the
 * rates of evaporation, which a sharp step would make infinite, stay finite. A face takes the mean over its area:
 * results change smoothly with strip and lengths on any grid.
 */
export function measuredWall(input: VesselInput, grid: PolarGrid): WallMap {
  const { wall, heatedLength } = input;
  const { angular, axial, zFaces } = grid;
  const count = 3;
  const temperature = new Float64Array(angular * axial * count);
  const share = new Float64Array(angular * axial * count);
  const sector = (2 * Math.PI) / angular;
  const lengthEdge = Math.min(LENGTH_EDGE * input.bore, input.length - heatedLength);
  const half = 0.5 * wall.hotStrip;
  const turn = 2 * Math.PI;
  for (let k = 0; k < axial; k++) {
    const heated = meanOfBox(zFaces[k], zFaces[k + 1], 0.5 * heatedLength, lengthEdge);
    for (let j = 0; j < angular; j++) {
      // Angle from the bottom, and the same one turn on and back: a wide strip reaches round both sides.
      const a = sectorAngle(grid, j) + 0.5 * Math.PI - 0.5 * sector;
      const hot =
        meanOfBox(a, a + sector, half, 2 * STRIP_EDGE) +
        meanOfBox(a - turn, a + sector - turn, half, 2 * STRIP_EDGE);
      const at = (k * angular + j) * count;
      temperature[at] = wall.bottom;
      temperature[at + 1] = wall.top;
      temperature[at + 2] = wall.ends;
      share[at] = heated * Math.min(1, hot);
      share[at + 1] = heated * (1 - Math.min(1, hot));
      share[at + 2] = 1 - heated;
    }
  }
  return { count, temperature, share, window: wall.ends };
}

/** Mean from a to b of a box of half-width `half` about 0 whose two edges are ramps of width `edge`. */
export function meanOfBox(a: number, b: number, half: number, edge: number): number {
  return (
    (rampIntegral(b + half, edge) -
      rampIntegral(a + half, edge) -
      rampIntegral(b - half, edge) +
      rampIntegral(a - half, edge)) /
    (b - a)
  );
}

/** Integral up to t of a step at 0 that is a ramp of width `edge`. */
function rampIntegral(t: number, edge: number): number {
  if (t <= -0.5 * edge) return 0;
  if (t >= 0.5 * edge) return t;
  return edge > 0 ? pow(t + 0.5 * edge, 2) / (2 * edge) : 0;
}

/** Lowest and highest temperature on wall and windows, K. */
export function wallRange(wall: WallMap): readonly [number, number] {
  let low = wall.window;
  let high = wall.window;
  for (let s = 0; s < wall.share.length; s++) {
    if (wall.share[s] > 0) {
      low = Math.min(low, wall.temperature[s]);
      high = Math.max(high, wall.temperature[s]);
    }
  }
  return [low, high];
}

/** A share below this is rounding. */
const NO_SHARE = 1e-9;

/** Coldest temperature that wall face w holds, K: a face cut by an edge takes metal as its coldest part does. */
export function coldestPart({ count, temperature, share }: WallMap, w: number): number {
  let coldest = Infinity;
  for (let s = w * count; s < (w + 1) * count; s++)
    if (share[s] > NO_SHARE) coldest = Math.min(coldest, temperature[s]);
  return coldest;
}

/** Mean over each wall face of a function of its temperatures. */
export function faceMeans(wall: WallMap, out: Float64Array, of: (temperature: number) => number): void {
  const { count, temperature, share } = wall;
  for (let w = 0; w < out.length; w++) {
    let sum = 0;
    for (let s = w * count; s < (w + 1) * count; s++) if (share[s] > 0) sum += share[s] * of(temperature[s]);
    out[w] = sum;
  }
}

/** Wall temperature straight below and straight above at mid-length, K, as a thermocouple there would read. */
export function midLengthWall(
  wall: WallMap,
  grid: PolarGrid,
): { readonly bottom: number; readonly top: number } {
  const read = (j: number): number => {
    const at = ((grid.axial >> 1) * grid.angular + j) * wall.count;
    let best = at;
    for (let s = at; s < at + wall.count; s++) if (wall.share[s] > wall.share[best]) best = s;
    return wall.temperature[best];
  };
  return { bottom: read(0), top: read(grid.angular / 2) };
}
