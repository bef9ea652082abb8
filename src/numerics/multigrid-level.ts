/** One grid of the multigrid hierarchy: coefficients, unknowns and the factors of its relaxation. */

/**
 * The equation of a cell is  Σ_faces c (u_neighbour − u) + f = 0  with u = 0 outside the grid: a boundary value enters
 * through f. Coefficients are conductances of faces, ≥ 0; a closed face has 0.
 */
export interface Level {
  readonly radial: number;
  readonly angular: number;
  readonly axial: number;
  /** rings relaxed as circles; the rings outside it are relaxed along radii */
  readonly circles: number;
  /** faces of the slices, m, length axial + 1 */
  readonly zFaces: Float64Array;
  /** outer face of each cell; the last of a line is the wall, length n */
  readonly cr: Float64Array;
  /** face toward the next sector, length n */
  readonly cp: Float64Array;
  /** face toward the slice before; one plane more than there are slices, length n + plane */
  readonly cz: Float64Array;
  /** unknowns with one plane of zeros before and one after, length n + 2 planes */
  readonly u: Float64Array;
  /** right-hand side, length n */
  readonly f: Float64Array;
  /** inverse pivots of the line solutions, length n */
  readonly pivot: Float64Array;
  /** how the last unknown of a circle enters the others, [(k · angular + j) · circles + i] */
  readonly closing: Float64Array;
  /** work space of the circles' solution, length circles */
  readonly scratch: Float64Array;
}

/**
 * Rings relaxed as circles, per sector: the coupling along a circle exceeds the one across it up to 1/(2π) rings per
 * sector; a little fewer circles cost less time and no more cycles (bench/vessel.ts).
 */
const CIRCLES = 0.85 / (2 * Math.PI);

export function createLevel(radial: number, angular: number, axial: number, zFaces: Float64Array): Level {
  const n = radial * angular * axial;
  const plane = radial * angular;
  const circles = Math.min(radial, Math.ceil(CIRCLES * angular));
  return {
    radial,
    angular,
    axial,
    circles,
    zFaces,
    cr: new Float64Array(n),
    cp: new Float64Array(n),
    cz: new Float64Array(n + plane),
    u: new Float64Array(n + 2 * plane),
    f: new Float64Array(n),
    pivot: new Float64Array(n),
    closing: new Float64Array(circles * angular * axial),
    scratch: new Float64Array(circles),
  };
}

/** Sum of the conductances of a cell. */
export function diagonal(level: Level, i: number, j: number, k: number): number {
  const { radial, angular, cr, cp, cz } = level;
  const plane = radial * angular;
  const c = k * plane + j * radial + i;
  const before = k * plane + (j === 0 ? angular - 1 : j - 1) * radial + i;
  return (i > 0 ? cr[c - 1] : 0) + cr[c] + cp[c] + cp[before] + cz[c] + cz[c + plane];
}

/** Prepares the line solutions after the coefficients have changed. */
export function factorLines(level: Level): void {
  const { radial, angular, axial, circles, cr, cp, pivot, closing } = level;
  for (let k = 0; k < axial; k++) {
    for (let j = 0; j < angular; j++) {
      const line = (k * angular + j) * radial;
      for (let i = circles; i < radial; i++) {
        const low = i > circles ? cr[line + i - 1] : 0;
        pivot[line + i] =
          1 / (diagonal(level, i, j, k) - (i > circles ? low * low * pivot[line + i - 1] : 0));
      }
    }
    // Circle of ring i: unknown angular − 1 is eliminated last, the others form a tridiagonal matrix.
    const last = angular - 1;
    for (let i = 0; i < circles; i++) {
      const at = (j: number): number => (k * angular + j) * radial + i;
      const close = (j: number): number => (k * angular + j) * circles + i;
      for (let j = 0; j < last; j++) {
        const low = j > 0 ? cp[at(j - 1)] : 0;
        const d = diagonal(level, i, j, k);
        pivot[at(j)] = 1 / (d - (j > 0 ? low * low * pivot[at(j - 1)] : 0));
        const rhs = (j === 0 ? cp[at(last)] : 0) + (j === last - 1 ? cp[at(j)] : 0);
        closing[close(j)] = (rhs + (j > 0 ? low * closing[close(j - 1)] : 0)) * pivot[at(j)];
      }
      for (let j = last - 2; j >= 0; j--)
        closing[close(j)] += cp[at(j)] * pivot[at(j)] * closing[close(j + 1)];
      const rest = cp[at(last)] * closing[close(0)] + cp[at(last - 1)] * closing[close(last - 1)];
      pivot[at(last)] = 1 / (diagonal(level, i, last, k) - rest);
    }
  }
}

/**
 * What halving the rings leaves of the conductance between an outermost cell and the wall, and of a correction on its way
 * to the wall: 1/(1 + t), t = 1/(1 + 2 depth/h) read off the conductances. ½ where the value is held on the wall, 1
 * where nothing passes. @param c index of the cell
 */
export function wallShare({ radial, cr }: Level, c: number): number {
  return 1 / (1 + Math.min(1, (cr[c] * (radial - 1)) / (2 * radial * cr[c - 1])));
}
