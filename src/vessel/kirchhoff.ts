/** Kirchhoff's transform: with  θ(T) = ∫ κ dT  the equation ∇·(κ(T)∇T) = 0 becomes Laplace's, ∇²θ = 0. */

/** A monotone table of θ over temperature, and back; accurate to about 1e-9 of the range for smooth κ. */
export interface KirchhoffTable {
  /** K, equally spaced */
  readonly low: number;
  readonly step: number;
  /** θ at the nodes, W/m, 0 at the lowest */
  readonly theta: Float64Array;
  /** κ at the nodes, W/(m K) */
  readonly kappa: Float64Array;
}

/** Tabulates θ between two temperatures, K, from the conductivity in W/(m K). Gauss–Legendre, two points a step. */
export function kirchhoffTable(
  low: number,
  high: number,
  conductivity: (t: number) => number,
): KirchhoffTable {
  const n = 256;
  const step = Math.max(high - low, 1e-6 * high) / n;
  const theta = new Float64Array(n + 1);
  const kappa = new Float64Array(n + 1);
  const offset = step / (2 * Math.sqrt(3));
  for (let i = 0; i <= n; i++) {
    const t = low + i * step;
    kappa[i] = conductivity(t);
    if (i < n) {
      const middle = t + 0.5 * step;
      theta[i + 1] = theta[i] + 0.5 * step * (conductivity(middle - offset) + conductivity(middle + offset));
    }
  }
  return { low, step, theta, kappa };
}

/** θ at a temperature within the table. */
export function thetaOf(table: KirchhoffTable, temperature: number): number {
  const { low, step, theta, kappa } = table;
  const position = (temperature - low) / step;
  const i = Math.min(theta.length - 2, Math.max(0, Math.floor(position)));
  return hermite(position - i, theta[i], theta[i + 1], kappa[i] * step, kappa[i + 1] * step);
}

/** Temperatures of many θ; values beyond the table are held at its ends. */
export function temperaturesOf(table: KirchhoffTable, values: Float64Array, out: Float64Array): void {
  const { low, step, theta, kappa } = table;
  const last = theta.length - 1;
  const top = theta[last];
  for (let c = 0; c < values.length; c++) {
    const v = Math.min(top, Math.max(0, values[c]));
    // θ is nearly straight: start from the secant and walk to the interval.
    let i = Math.min(last - 1, Math.floor((v / top) * last));
    while (i > 0 && theta[i] > v) i--;
    while (i < last - 1 && theta[i + 1] < v) i++;
    const rise = theta[i + 1] - theta[i];
    const t = (v - theta[i]) / rise;
    out[c] = low + step * (i + hermite(t, 0, 1, rise / (kappa[i] * step), rise / (kappa[i + 1] * step)));
  }
}

function hermite(t: number, a: number, b: number, da: number, db: number): number {
  const s = 1 - t;
  return s * s * (a * (1 + 2 * t) + da * t) + t * t * (b * (1 + 2 * s) - db * s);
}
