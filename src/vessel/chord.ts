/** Values along a plumb chord beside the axis, interpolated in each slice: for light that passes at x ≠ 0. */
import { atan2, hypot } from "../numerics/elementary/index.ts";
import type { PolarGrid } from "../numerics/polar-grid.ts";

/** Nodes of the plumb line at a distance x from the axis, and how a slice's cells and wall make the values there. */
export interface Chord {
  /** heights, m, ascending, from wall to wall */
  readonly y: Float64Array;
  /** 16 sources a node: cell j · radial + i of the slice, or angular · radial + j for the wall of sector j */
  readonly source: Int32Array;
  readonly weight: Float64Array;
}

const STENCIL = 16;

/**
 * Cubic Lagrange interpolation in radius (through the axis to the opposite sector; the wall is a node) times the same in
 * angle. At x = 0 the nodes are the rings themselves and nothing is interpolated.
 */
export function plumbChord(grid: PolarGrid, x: number): Chord {
  const { radial, angular, radius } = grid;
  const h = radius / radial;
  const half = Math.sqrt(radius * radius - x * x);
  const n = 2 * radial + 2;
  const y = new Float64Array(n);
  for (let q = 0; q < n; q++) {
    const share = q === 0 ? -1 : q === n - 1 ? 1 : (q - radial - 0.5) / radial;
    y[q] = share * half;
  }
  const source = new Int32Array(n * STENCIL);
  const weight = new Float64Array(n * STENCIL);
  const sector = (2 * Math.PI) / angular;
  const ringPosition = (ring: number): number => (ring === radial ? radius : (ring + 0.5) * h);
  for (let q = 0; q < n; q++) {
    const r = Math.min(radius, hypot(x, y[q]));
    const turn = (atan2(y[q], x) + 0.5 * Math.PI) / sector;
    const firstRing = Math.min(radial - 3, Math.floor(r / h - 0.5) - 1);
    const firstSector = Math.floor(turn) - 1;
    const rings = lagrange(
      [0, 1, 2, 3].map((a) => ringPosition(firstRing + a)),
      r,
    );
    const sectors = lagrange(
      [0, 1, 2, 3].map((b) => firstSector + b),
      turn,
    );
    for (let a = 0; a < 4; a++) {
      const ring = firstRing + a;
      for (let b = 0; b < 4; b++) {
        const opposite = ring < 0 ? angular / 2 : 0;
        const j = (((firstSector + b + opposite) % angular) + angular) % angular;
        const i = ring < 0 ? -ring - 1 : ring;
        source[q * STENCIL + 4 * a + b] = ring === radial ? angular * radial + j : j * radial + i;
        weight[q * STENCIL + 4 * a + b] = rings[a] * sectors[b];
      }
    }
  }
  return { y, source, weight };
}

/** Values on the chord's nodes in slice k, from a cell array and its wall array. */
export function chordValues(
  grid: PolarGrid,
  chord: Chord,
  k: number,
  cells: Float64Array,
  wall: Float64Array,
  out: Float64Array,
): void {
  const plane = grid.radial * grid.angular;
  const { source, weight } = chord;
  for (let q = 0; q < out.length; q++) {
    let sum = 0;
    for (let s = q * STENCIL; s < (q + 1) * STENCIL; s++) {
      const c = source[s];
      if (weight[s] !== 0)
        sum += weight[s] * (c < plane ? cells[k * plane + c] : wall[k * grid.angular + c - plane]);
    }
    out[q] = sum;
  }
}

/** Weights of the polynomial through four nodes at a point. */
function lagrange(nodes: readonly number[], at: number): number[] {
  return nodes.map((own, a) =>
    nodes.reduce((w, other, b) => (a === b ? w : (w * (at - other)) / (own - other)), 1),
  );
}
