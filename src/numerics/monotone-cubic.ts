/** Interpolation that never overshoots its points: for tables of absorption, where a negative value has no meaning. */

/**
 * Monotone cubic through points of ascending abscissa (Fritsch & Carlson, SIAM J. Numer. Anal. 17, 238 (1980), with the
 * harmonic-mean slopes of Fritsch & Butland 1984): continuous slope, and between two points never outside their values.
 */
export class MonotoneCubic {
  private readonly x: Float64Array;
  private readonly y: Float64Array;
  private readonly slopes: Float64Array;

  /** Needs at least 2 points, x strictly ascending. */
  constructor(x: Float64Array, y: Float64Array) {
    const n = x.length;
    if (n < 2 || y.length !== n)
      throw new Error(`interpolation needs at least 2 points of equal number, got ${n}`);
    this.x = x;
    this.y = y;
    this.slopes = new Float64Array(n);
    const step = new Float64Array(n - 1);
    const secant = new Float64Array(n - 1);
    for (let i = 0; i < n - 1; i++) {
      step[i] = x[i + 1] - x[i];
      if (!(step[i] > 0)) throw new Error("interpolation needs strictly ascending abscissae");
      secant[i] = (y[i + 1] - y[i]) / step[i];
    }
    for (let i = 1; i < n - 1; i++) {
      if (secant[i - 1] * secant[i] <= 0) continue;
      const before = 2 * step[i] + step[i - 1];
      const after = step[i] + 2 * step[i - 1];
      this.slopes[i] = (before + after) / (before / secant[i - 1] + after / secant[i]);
    }
    this.slopes[0] = endSlope(step[0], step[1] ?? step[0], secant[0], secant[1] ?? secant[0]);
    const last = n - 2;
    const previous = Math.max(0, last - 1);
    this.slopes[n - 1] = endSlope(step[last], step[previous], secant[last], secant[previous]);
  }

  /** Value at a point; outside the table the end interval goes on. */
  value(at: number): number {
    let low = 0;
    let high = this.x.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (this.x[middle] <= at) low = middle;
      else high = middle;
    }
    const h = this.x[high] - this.x[low];
    const t = (at - this.x[low]) / h;
    const s = 1 - t;
    return (
      this.y[low] * (1 + 2 * t) * s * s +
      this.slopes[low] * h * t * s * s +
      this.y[high] * t * t * (1 + 2 * s) -
      this.slopes[high] * h * t * t * s
    );
  }
}

/** Three-point slope at an end, held back so that the end interval stays monotone. */
function endSlope(h0: number, h1: number, d0: number, d1: number): number {
  const slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
  if (slope * d0 <= 0) return 0;
  if (d0 * d1 <= 0 && Math.abs(slope) > 3 * Math.abs(d0)) return 3 * d0;
  return slope;
}
