/** Residuals, and the way between one grid and the next coarser. */
import { type Level, wallShare } from "./multigrid-level.ts";

/** Which directions a coarser level halves, and how many slices become one. */
export interface Halving {
  readonly radial: boolean;
  readonly angular: boolean;
  readonly axial: 1 | 2 | 3 | 4;
}

/**
 * Sets the coarse right-hand side to the sums of the fine residuals f + Σ c (u_neighbour − u) and the coarse unknowns
 * to zero; gives the sum of the squares of the fine residuals. Must follow a relaxation whose last step was
 * `relaxRadii(fine, 1)`: on the radii solved there the residual vanishes and is not computed again.
 */
export function restrictResidual(fine: Level, coarse: Level, halving: Halving): number {
  const { radial, angular, axial, circles, cr, cp, cz, u, f } = fine;
  const plane = radial * angular;
  const sr = halving.radial ? 1 : 0;
  const sp = halving.angular ? 1 : 0;
  const target = coarse.f;
  target.fill(0);
  coarse.u.fill(0);
  let square = 0;
  for (let k = 0; k < axial; k++) {
    for (let j = 0; j < angular; j++) {
      const line = k * plane + j * radial;
      const before = j === 0 ? k * plane + (angular - 1) * radial : line - radial;
      const after = j === angular - 1 ? k * plane : line + radial;
      const coarseLine = (Math.floor(k / halving.axial) * coarse.angular + (j >> sp)) * coarse.radial;
      const stop = ((j + k) & 1) === 1 ? circles : radial;
      let inward = 0;
      let own = u[line + plane];
      for (let i = 0; i < stop; i++) {
        const c = line + i;
        const next = i < radial - 1 ? u[c + plane + 1] : 0;
        const outward = cr[c] * (next - own);
        const r =
          f[c] +
          outward -
          inward +
          cp[before + i] * (u[before + plane + i] - own) +
          cp[c] * (u[after + plane + i] - own) +
          cz[c] * (u[c] - own) +
          cz[c + plane] * (u[c + 2 * plane] - own);
        inward = outward;
        own = next;
        square += r * r;
        target[coarseLine + (i >> sr)] += r;
      }
    }
  }
  return square;
}

/** Neighbour and weight for linear interpolation in length, slice by slice of the fine level. */
export interface AxialWeights {
  /** nearer coarse slice */
  readonly near: Int32Array;
  /** farther coarse slice, or the same as `near` at an end */
  readonly far: Int32Array;
  readonly nearWeight: Float64Array;
  readonly farWeight: Float64Array;
}

/**
 * Adds the linearly interpolated coarse correction to the fine unknowns; `scratch` holds one coarse line; `patchy` as for
 * `coarsenConductances`.
 */
export function prolongCorrection(
  fine: Level,
  coarse: Level,
  halving: Halving,
  weights: AxialWeights,
  scratch: Float64Array,
  patchy: boolean,
): void {
  const { radial, angular, axial, u, cr } = fine;
  const plane = radial * angular;
  const coarseRadial = coarse.radial;
  const coarseAngular = coarse.angular;
  const coarsePlane = coarseRadial * coarseAngular;
  const e = coarse.u;
  for (let k = 0; k < axial; k++) {
    const nearPlane = (weights.near[k] + 1) * coarsePlane;
    const farPlane = (weights.far[k] + 1) * coarsePlane;
    const wn = weights.nearWeight[k];
    const wf = weights.farWeight[k];
    for (let j = 0; j < angular; j++) {
      let jn = j;
      let jf = j;
      if (halving.angular) {
        // Sector j of the fine grid is centred on the same angle as half-sector j/2 of the coarse one (sector 0 of
        // both grids begins at the same face), so the two children lie a quarter of a coarse sector to either side.
        jn = j >> 1;
        jf = (j & 1) === 0 ? jn - 1 : jn + 1;
        if (jf < 0) jf = coarseAngular - 1;
        else if (jf === coarseAngular) jf = 0;
      }
      const an = halving.angular ? 0.75 : 1;
      const af = 1 - an;
      const nn = nearPlane + jn * coarseRadial;
      const nf = nearPlane + jf * coarseRadial;
      const fn = farPlane + jn * coarseRadial;
      const ff = farPlane + jf * coarseRadial;
      const a = wn * an;
      const b = wn * af;
      const c = wf * an;
      const d = wf * af;
      for (let i = 0; i < coarseRadial; i++)
        scratch[i] = a * e[nn + i] + b * e[nf + i] + c * e[fn + i] + d * e[ff + i];
      const line = k * plane + j * radial + plane;
      if (!halving.radial) {
        for (let i = 0; i < radial; i++) u[line + i] += scratch[i];
        continue;
      }
      const half = coarseAngular >> 1;
      const on = jn < half ? half : -half;
      const of = jf < half ? half : -half;
      let inner =
        a * e[nn + on * coarseRadial] +
        b * e[nf + of * coarseRadial] +
        c * e[fn + on * coarseRadial] +
        d * e[ff + of * coarseRadial];
      for (let i = 0; i < coarseRadial - 1; i++) {
        const own = scratch[i];
        u[line + 2 * i] += 0.75 * own + 0.25 * inner;
        u[line + 2 * i + 1] += 0.75 * own + 0.25 * scratch[i + 1];
        inner = own;
      }
      const own = scratch[coarseRadial - 1];
      u[line + radial - 2] += 0.75 * own + 0.25 * inner;
      const last = line - plane + radial - 1;
      u[line + radial - 1] += patchy ? own * wallShare(fine, last) : cr[last] > 0 ? 0.5 * own : own;
    }
  }
}
