/** Which part of the wall is wet with metal, as the solver sees it. */
import { type PolarGrid, sectorAngle } from "../numerics/polar-grid.ts";
import type { WetWall } from "./api.ts";
import { LENGTH_EDGE, meanOfBox, STRIP_EDGE } from "./wall.ts";

/** Arrays are [k · angular + j]. */
export interface Wetness {
  /** share of each wall face that is wet, 0 to 1 */
  readonly share: Float64Array;
  /** how far behind the wall the metal's vapour pressure is held, m: 0 where wet, Infinity where dry */
  readonly depth: Float64Array;
}

/**
 * Depth in widths of the edge where half of the wall is wet, times two: chosen so that columns and flows keep the values
 * of a sharp edge (test/outside/dry-walls.test.ts).
 */
const DEPTH = 0.47;

/**
 * Wet and dry pass into one another over the widths of `measuredWall`, centred on the stated edge (less where the wet
 * or the dry part is hardly wider): with w the wet share, the vapour pressure is held DEPTH · width · (1 − w)²/w behind
 * the wall, as by metal that thins out. At a sharp edge the flux would be infinite and the solver of first order only;
 * so it is of second order, conservative, and ψ stays within the values on the wet part.
 */
export function wetness(wet: WetWall, grid: PolarGrid): Wetness {
  const { angular, axial, zFaces } = grid;
  const around = wetAround(wet, grid);
  const along = wetAlong(wet, grid);
  const share = new Float64Array(angular * axial);
  const depth = new Float64Array(angular * axial);
  for (let k = 0; k < axial; k++) {
    const alongShare = along.share(zFaces[k], zFaces[k + 1]);
    for (let j = 0; j < angular; j++) {
      const w = k * angular + j;
      share[w] = alongShare * around.share[j];
      depth[w] = heldBehind(around.share[j], around.width) + heldBehind(alongShare, along.width);
    }
  }
  return { share, depth };
}

function heldBehind(share: number, width: number): number {
  return share > 0 ? (DEPTH * width * (1 - share) ** 2) / share : Infinity;
}

function wetAround(
  { strip }: WetWall,
  grid: PolarGrid,
): { readonly share: Float64Array; readonly width: number } {
  const turn = 2 * Math.PI;
  const share = new Float64Array(grid.angular).fill(1);
  if (strip === undefined) return { share, width: 0 };
  const edge = Math.min(2 * STRIP_EDGE, strip, turn - strip);
  const sector = turn / grid.angular;
  for (let j = 0; j < grid.angular; j++) {
    const a = sectorAngle(grid, j) + 0.5 * Math.PI - 0.5 * sector;
    share[j] = within(
      meanOfBox(a, a + sector, 0.5 * strip, edge) + meanOfBox(a - turn, a + sector - turn, 0.5 * strip, edge),
    );
  }
  return { share, width: edge * grid.radius };
}

function wetAlong(
  { from, to }: WetWall,
  grid: PolarGrid,
): { share(a: number, b: number): number; readonly width: number } {
  if (from === undefined && to === undefined) return { share: () => 1, width: 0 };
  const far = 1e3;
  const low = from ?? -far;
  const high = to ?? far;
  const width = Math.min(LENGTH_EDGE * 2 * grid.radius, high - low);
  const middle = 0.5 * (low + high);
  return {
    share: (a, b) => within(meanOfBox(a - middle, b - middle, 0.5 * (high - low), width)),
    width,
  };
}

/** Rounding of a mean is no share. */
function within(share: number): number {
  return share < 1e-12 ? 0 : share > 1 - 1e-12 ? 1 : share;
}

/** True where wet and dry are alike on both sides of mid-length. */
export function wetIsMirrored(wet: WetWall | undefined): boolean {
  return wet === undefined || (wet.from ?? -Infinity) === -(wet.to ?? Infinity);
}
