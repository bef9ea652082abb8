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

/** Solves every circle with (i + k) of the given parity, its neighbours held. */
export function relaxCircles(level: Level, parity: 0 | 1): void {
  const { radial, angular, axial, circles, cr, cp, cz, u, f, pivot, closing } = level;
  const plane = radial * angular;
  const last = angular - 1;
  for (let k = 0; k < axial; k++) {
    const first = (parity + k) & 1;
    for (let j = 0; j <= last; j++) {
      const line = k * plane + j * radial;
      for (let i = first; i < circles; i += 2) {
        const c = line + i;
        let sum = f[c] + cz[c] * u[c] + cz[c + plane] * u[c + 2 * plane];
        if (i > 0) sum += cr[c - 1] * u[c + plane - 1];
        if (i < radial - 1) sum += cr[c] * u[c + plane + 1];
        if (j > 0 && j < last) sum += cp[c - radial] * u[c + plane - radial];
        u[c + plane] = j < last ? sum * pivot[c] : sum;
      }
    }
    for (let j = last - 2; j >= 0; j--) {
      const line = k * plane + j * radial;
      for (let i = first; i < circles; i += 2) {
        const c = line + i;
        u[c + plane] += cp[c] * pivot[c] * u[c + plane + radial];
      }
    }
    const lastLine = k * plane + last * radial;
    for (let i = first; i < circles; i += 2) {
      const c = lastLine + i;
      const start = k * plane + i;
      u[c + plane] =
        (u[c + plane] + cp[c] * u[start + plane] + cp[c - radial] * u[c + plane - radial]) * pivot[c];
    }
    for (let j = 0; j < last; j++) {
      const line = k * plane + j * radial;
      const close = (k * angular + j) * circles;
      for (let i = first; i < circles; i += 2) {
        u[line + plane + i] += closing[close + i] * u[lastLine + plane + i];
      }
    }
  }
}
