/** Relaxation of the bore: whole circles near the axis, where sectors are narrow; whole radii outside, where they are wide. */
import type { Level } from "./multigrid-level.ts";

/** Solves every radius with (j + k) of the given parity, its neighbours held. */
export function relaxRadii(level: Level, parity: 0 | 1): void {
  const { radial, angular, axial, circles, cr, cp, cz, u, f, pivot } = level;
  const plane = radial * angular;
  for (let k = 0; k < axial; k++) {
    for (let j = (parity + k) & 1; j < angular; j += 2) {
      const line = k * plane + j * radial;
      const before = j === 0 ? k * plane + (angular - 1) * radial : line - radial;
      const after = j === angular - 1 ? k * plane : line + radial;
      const uLine = line + plane;
      let carry = circles > 0 && circles < radial ? u[uLine + circles - 1] * cr[line + circles - 1] : 0;
      for (let i = circles; i < radial; i++) {
        const c = line + i;
        const value =
          (f[c] +
            cp[before + i] * u[before + plane + i] +
            cp[c] * u[after + plane + i] +
            cz[c] * u[c] +
            cz[c + plane] * u[c + 2 * plane] +
            carry) *
          pivot[c];
        u[uLine + i] = value;
        carry = cr[c] * value;
      }
      let outer = u[uLine + radial - 1];
      for (let i = radial - 2; i >= circles; i--) {
        const c = line + i;
        outer = u[uLine + i] + cr[c] * pivot[c] * outer;
        u[uLine + i] = outer;
      }
    }
  }
}

/**
 * Solves every circle with (i + k) of the given parity, its neighbours held. The last unknown of a circle follows from
 * the scalar product of its closing column with the right-hand sides, so one pass forward and one back suffice.
 */
export function relaxCircles(level: Level, parity: 0 | 1): void {
  const { radial, angular, axial, circles, cr, cp, cz, u, f, pivot, closing, scratch } = level;
  const plane = radial * angular;
  const last = angular - 1;
  for (let k = 0; k < axial; k++) {
    const first = (parity + k) & 1;
    scratch.fill(0);
    for (let j = 0; j <= last; j++) {
      const line = k * plane + j * radial;
      const close = (k * angular + j) * circles;
      for (let i = first; i < circles; i += 2) {
        const c = line + i;
        let sum = f[c] + cz[c] * u[c] + cz[c + plane] * u[c + 2 * plane];
        if (i > 0) sum += cr[c - 1] * u[c + plane - 1];
        if (i < radial - 1) sum += cr[c] * u[c + plane + 1];
        if (j < last) {
          scratch[i] += closing[close + i] * sum;
          if (j > 0) sum += cp[c - radial] * u[c + plane - radial];
        } else {
          sum += scratch[i];
        }
        u[c + plane] = sum * pivot[c];
      }
    }
    // Backward: the tridiagonal solution runs on in scratch, the closing unknown is added as it is stored.
    const lastLine = k * plane + last * radial + plane;
    scratch.fill(0);
    for (let j = last - 1; j >= 0; j--) {
      const line = k * plane + j * radial;
      const close = (k * angular + j) * circles;
      for (let i = first; i < circles; i += 2) {
        const c = line + i;
        const value = u[c + plane] + cp[c] * pivot[c] * scratch[i];
        scratch[i] = value;
        u[c + plane] = value + closing[close + i] * u[lastLine + i];
      }
    }
  }
}
