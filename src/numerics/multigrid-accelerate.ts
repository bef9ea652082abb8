/** Conjugate directions for the multigrid: the best step in the plane of a cycle's step and the step before. */
import type { Level } from "./multigrid-level.ts";

/** Both with a plane of zeros before and after, as the unknowns have, length n + 2 planes. */
export interface Directions {
  /** the unknowns before a cycle, afterwards what the cycle added to them */
  readonly step: Float64Array;
  /** the step that was taken last; zero before the first */
  readonly last: Float32Array;
}

export function createDirections({ u }: Level): Directions {
  return { step: new Float64Array(u.length), last: new Float32Array(u.length) };
}

/**
 * Replaces what a cycle added to the unknowns by  a · step + b · last  with the least error in the energy of the
 * equation, ½ uᵀAu − fᵀu: flexible conjugate gradients with the cycle as preconditioner. Few slow modes, as a narrow
 * held strip leaves, then cost a cycle each instead of setting the pace. Before: `step` holds the unknowns as they were.
 */
export function takeBestStep(level: Level, { step, last }: Directions): void {
  const { u } = level;
  for (let c = 0; c < u.length; c++) step[c] = u[c] - step[c];
  const { ss, sl, ll, rs, rl } = products(level, step, last);
  const determinant = ss * ll - sl * sl;
  // Where both directions are the same to rounding, the cycle's own is taken.
  const both = determinant > 1e-12 * ss * ll;
  const a = both ? (rs * ll - rl * sl) / determinant : ss > 0 ? rs / ss : 1;
  const b = both ? (rl * ss - rs * sl) / determinant : 0;
  for (let c = 0; c < u.length; c++) {
    const taken = a * step[c] + b * last[c];
    u[c] += taken - step[c];
    last[c] = taken;
  }
}

interface Products {
  /** step·A step, step·A last, last·A last */
  ss: number;
  sl: number;
  ll: number;
  /** residual before the cycle · step and · last */
  rs: number;
  rl: number;
}

function products(level: Level, step: Float64Array, last: Float32Array): Products {
  const { radial, angular, axial, cr, cp, cz, u, f } = level;
  const plane = radial * angular;
  let [ss, sl, ll, rs, rl] = [0, 0, 0, 0, 0];
  for (let k = 0; k < axial; k++) {
    for (let j = 0; j < angular; j++) {
      const line = k * plane + j * radial;
      const before = (j === 0 ? k * plane + plane - radial : line - radial) - line;
      const after = (j === angular - 1 ? k * plane : line + radial) - line;
      for (let i = 0; i < radial; i++) {
        const c = line + i;
        const x = c + plane;
        const inward = i > 0 ? cr[c - 1] : 0;
        const outward = cr[c];
        const left = cp[c + before];
        const right = cp[c];
        const down = cz[c];
        const up = cz[x];
        const sum = inward + outward + left + right + down + up;
        const out = i < radial - 1 ? outward : 0;
        const as =
          sum * step[x] -
          inward * step[x - 1] -
          out * step[x + 1] -
          left * step[x + before] -
          right * step[x + after] -
          down * step[c] -
          up * step[x + plane];
        const al =
          sum * last[x] -
          inward * last[x - 1] -
          out * last[x + 1] -
          left * last[x + before] -
          right * last[x + after] -
          down * last[c] -
          up * last[x + plane];
        const au =
          sum * u[x] -
          inward * u[x - 1] -
          out * u[x + 1] -
          left * u[x + before] -
          right * u[x + after] -
          down * u[c] -
          up * u[x + plane];
        const r = f[c] - au + as;
        ss += step[x] * as;
        sl += last[x] * as;
        ll += last[x] * al;
        rs += r * step[x];
        rl += r * last[x];
      }
    }
  }
  return { ss, sl, ll, rs, rl };
}
