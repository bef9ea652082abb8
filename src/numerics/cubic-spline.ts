/** Interpolation by the natural or not-a-knot cubic: smooth to the second derivative, for gradients of a solved field. */

/** Solves a tridiagonal system in place: d becomes the solution; b and d are overwritten. a[0] and c[n−1] are not read. */
export function solveTridiagonal(a: Float64Array, b: Float64Array, c: Float64Array, d: Float64Array): void {
  const n = d.length;
  for (let i = 1; i < n; i++) {
    const w = a[i] / b[i - 1];
    b[i] -= w * c[i - 1];
    d[i] -= w * d[i - 1];
  }
  d[n - 1] /= b[n - 1];
  for (let i = n - 2; i >= 0; i--) d[i] = (d[i] - c[i] * d[i + 1]) / b[i];
}

/** Cubic spline through points of ascending abscissa; not-a-knot ends (third derivative continuous next to the ends). */
export class CubicSpline {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** second derivatives at the points */
  readonly curvature: Float64Array;

  /** Needs at least 4 points, x strictly ascending. */
  constructor(x: Float64Array, y: Float64Array) {
    const n = x.length;
    if (n < 4 || y.length !== n)
      throw new Error(`a spline needs at least 4 points of equal number, got ${n}`);
    this.x = x;
    this.y = y;
    const m = n - 2;
    const a = new Float64Array(m);
    const b = new Float64Array(m);
    const c = new Float64Array(m);
    const d = new Float64Array(m);
    for (let i = 0; i < m; i++) {
      const h0 = x[i + 1] - x[i];
      const h1 = x[i + 2] - x[i + 1];
      if (!(h0 > 0 && h1 > 0)) throw new Error("a spline needs strictly ascending abscissae");
      a[i] = h0;
      b[i] = 2 * (h0 + h1);
      c[i] = h1;
      d[i] = 6 * ((y[i + 2] - y[i + 1]) / h1 - (y[i + 1] - y[i]) / h0);
    }
    // Not-a-knot: the end curvatures follow linearly from the two next to them, folded into the first and last row.
    const l0 = x[1] - x[0];
    const l1 = x[2] - x[1];
    b[0] += l0 * (1 + l0 / l1);
    c[0] -= (l0 * l0) / l1;
    const r0 = x[n - 1] - x[n - 2];
    const r1 = x[n - 2] - x[n - 3];
    b[m - 1] += r0 * (1 + r0 / r1);
    a[m - 1] -= (r0 * r0) / r1;
    solveTridiagonal(a, b, c, d);
    this.curvature = new Float64Array(n);
    this.curvature.set(d, 1);
    this.curvature[0] = d[0] + (l0 / l1) * (d[0] - d[1]);
    this.curvature[n - 1] = d[m - 1] + (r0 / r1) * (d[m - 1] - d[m - 2]);
  }

  value(at: number): number {
    const i = this.interval(at);
    const { x, y, curvature } = this;
    const h = x[i + 1] - x[i];
    const a = (x[i + 1] - at) / h;
    const b = (at - x[i]) / h;
    return (
      a * y[i] +
      b * y[i + 1] +
      ((h * h) / 6) * ((a * a * a - a) * curvature[i] + (b * b * b - b) * curvature[i + 1])
    );
  }

  derivative(at: number): number {
    const i = this.interval(at);
    const { x, y, curvature } = this;
    const h = x[i + 1] - x[i];
    const a = (x[i + 1] - at) / h;
    const b = (at - x[i]) / h;
    return (
      (y[i + 1] - y[i]) / h + (h / 6) * ((1 - 3 * a * a) * curvature[i] + (3 * b * b - 1) * curvature[i + 1])
    );
  }

  private interval(at: number): number {
    let low = 0;
    let high = this.x.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (this.x[middle] > at) high = middle;
      else low = middle;
    }
    return low;
  }
}
