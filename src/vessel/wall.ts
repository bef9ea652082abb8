/** The wall as the solver sees it: for each wall face, the temperatures it holds and their shares of the face. */
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

/**
 * Measured wall: `bottom` on the hot strip, `top` on the rest of the heated length, `ends` beyond it and on the
 * windows. The steps between them are sharp; a face cut by a step holds both temperatures by the area of each, and
 * what is averaged over the face is the driving potential (of heat, of vapour), not the temperature. Results
 * therefore change smoothly with the width of the strip and with the heated length, on any grid, and tend to those of
 * the sharp step.
 */
export function measuredWall(input: VesselInput, grid: PolarGrid): WallMap {
  const { wall, heatedLength } = input;
  const { angular, axial, zFaces } = grid;
  const count = 3;
  const temperature = new Float64Array(angular * axial * count);
  const share = new Float64Array(angular * axial * count);
  const sector = (2 * Math.PI) / angular;
  for (let k = 0; k < axial; k++) {
    const heated =
      overlap(zFaces[k], zFaces[k + 1], -0.5 * heatedLength, 0.5 * heatedLength) /
      (zFaces[k + 1] - zFaces[k]);
    for (let j = 0; j < angular; j++) {
      // Angle from the bottom; the sector opposite the bottom is cut by the strip's two ends alike.
      const fromBottom = sectorAngle(grid, j) + 0.5 * Math.PI;
      const a = fromBottom > Math.PI ? fromBottom - 2 * Math.PI : fromBottom;
      const half = 0.5 * wall.hotStrip;
      const covered =
        overlap(a - 0.5 * sector, a + 0.5 * sector, -half, half) +
        overlap(a - 0.5 * sector, a + 0.5 * sector, 2 * Math.PI - half, 2 * Math.PI + half) +
        overlap(a - 0.5 * sector, a + 0.5 * sector, -2 * Math.PI - half, -2 * Math.PI + half);
      const hot = Math.min(1, covered / sector);
      const at = (k * angular + j) * count;
      temperature[at] = wall.bottom;
      temperature[at + 1] = wall.top;
      temperature[at + 2] = wall.ends;
      share[at] = heated * hot;
      share[at + 1] = heated * (1 - hot);
      share[at + 2] = 1 - heated;
    }
  }
  return { count, temperature, share, window: wall.ends };
}

function overlap(a: number, b: number, c: number, d: number): number {
  return Math.max(0, Math.min(b, d) - Math.max(a, c));
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
