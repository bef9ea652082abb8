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

/** Depth in widths of the edge at half wet, times two: with it columns keep the values of a sharp edge (test/outside/dry-walls.test.ts). */
const DEPTH = 0.47;
/** Parts of a face over which its conductance is a mean. */
const PARTS = 16;

/** Wet share of the wall between two places. */
type ShareOf = (from: number, to: number) => number;

/**
 * Wet and dry pass into one another over the widths of `measuredWall`, centred on the stated edge (less where the wet
 * or the dry part is hardly wider): with w the wet share, the vapour pressure is held DEPTH · width · (1 − w)²/w behind
 * the wall, as by metal that thins out. At a sharp edge the flux would be infinite and the solver of first order only;
 * so it is of second order, conservative, and ψ stays within the values on the wet part. A face takes the depth of its
 * mean conductance, the half cell before it included.
 */
export function wetness({ strip, from, to }: WetWall, grid: PolarGrid): Wetness {
  const { angular, axial, radial, radius, zFaces } = grid;
  const half = (0.5 * radius) / radial;
  const sector = (2 * Math.PI) / angular;
  const edge = strip === undefined ? 0 : Math.min(2 * STRIP_EDGE, strip, 2 * Math.PI - strip);
  const around = strip === undefined ? everywhere : aroundShare(strip, edge);
  const low = from ?? -FAR;
  const high = to ?? FAR;
  const width = Math.min(LENGTH_EDGE * 2 * radius, high - low);
  const along = from === undefined && to === undefined ? everywhere : alongShare(low, high, width);
  const share = new Float64Array(angular * axial);
  const depth = new Float64Array(angular * axial);
  const sides = Array.from({ length: angular }, (_, j) => {
    const a = sectorAngle(grid, j) + 0.5 * Math.PI - 0.5 * sector;
    return heldBehind(around, a, a + sector, DEPTH * edge * radius, half);
  });
  for (let k = 0; k < axial; k++) {
    const slice = heldBehind(along, zFaces[k], zFaces[k + 1], DEPTH * width, half);
    for (let j = 0; j < angular; j++) {
      share[k * angular + j] = slice.share * sides[j].share;
      depth[k * angular + j] = slice.depth + sides[j].depth;
    }
  }
  return { share, depth };
}

/** Beyond every window, m. */
const FAR = 1e3;

const everywhere: ShareOf = () => 1;

function aroundShare(strip: number, edge: number): ShareOf {
  const turn = 2 * Math.PI;
  return (a, b) => meanOfBox(a, b, 0.5 * strip, edge) + meanOfBox(a - turn, b - turn, 0.5 * strip, edge);
}

function alongShare(low: number, high: number, width: number): ShareOf {
  const middle = 0.5 * (low + high);
  return (a, b) => meanOfBox(a - middle, b - middle, 0.5 * (high - low), width);
}

/** Share and depth of a face from `a` to `b`; `half` is the distance from the middle of the cell to the wall, m. */
function heldBehind(
  shareOf: ShareOf,
  a: number,
  b: number,
  scale: number,
  half: number,
): { share: number; depth: number } {
  let share = 0;
  let conductance = 0;
  for (let p = 0; p < PARTS; p++) {
    const w = within(shareOf(a + ((b - a) * p) / PARTS, a + ((b - a) * (p + 1)) / PARTS));
    share += w / PARTS;
    conductance += 1 / (half + (w > 0 ? (scale * (1 - w) * (1 - w)) / w : Infinity)) / PARTS;
  }
  return { share, depth: share === 1 ? 0 : 1 / conductance - half };
}

/** Rounding of a mean is no share. */
function within(share: number): number {
  return share < 1e-9 ? 0 : share > 1 - 1e-9 ? 1 : share;
}

/** True where wet and dry are alike on both sides of mid-length. */
export function wetIsMirrored(wet: WetWall | undefined): boolean {
  return wet === undefined || (wet.from ?? -Infinity) === -(wet.to ?? Infinity);
}
