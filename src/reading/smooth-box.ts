/** A box blurred by a Gaussian, as a pixel sees it: the shape of a slit's image. */

const REACH = 8;
const PER_UNIT = 256;
const COUNT = 2 * REACH * PER_UNIT + 1;

/** Φ, its slope and ∫Φ = t·Φ(t) + φ(t) on a grid of standard deviations. */
interface NormalTables {
  readonly cumulative: Float64Array;
  readonly integral: Float64Array;
  readonly density: Float64Array;
}

const tables = buildTables();

/** Gauss's error integral by quadrature of its own density: Simpson's rule on the table's grid, error < 1e-13. */
function buildTables(): NormalTables {
  const cumulative = new Float64Array(COUNT);
  const heights = new Float64Array(COUNT);
  const h = 1 / PER_UNIT;
  // Upward from the far tail; Φ(−8) = 6e-16 is the constant left out.
  for (let i = 1; i < COUNT; i++) {
    const a = -REACH + (i - 1) * h;
    cumulative[i] = cumulative[i - 1] + (h / 6) * (density(a) + 4 * density(a + h / 2) + density(a + h));
  }
  const integral = new Float64Array(COUNT);
  for (let i = 0; i < COUNT; i++) {
    const t = -REACH + i * h;
    heights[i] = density(t);
    integral[i] = t * cumulative[i] + heights[i];
  }
  return { cumulative, integral, density: heights };
}

/** Φ(t), cubic between the nodes: error below 1e-10. */
export function normalCumulative(t: number): number {
  if (t <= -REACH) return 0;
  if (t >= REACH) return 1;
  const x = (t + REACH) * PER_UNIT;
  const i = Math.min(x | 0, COUNT - 2);
  const f = x - i;
  const c = tables.cumulative;
  const d = tables.density;
  return hermite(c[i], c[i + 1], d[i] / PER_UNIT, d[i + 1] / PER_UNIT, f);
}

/** ∫_{−∞}^t Φ, cubic between the nodes: error below 1e-11. */
export function normalIntegral(t: number): number {
  if (t <= -REACH) return 0;
  if (t >= REACH) return t;
  const x = (t + REACH) * PER_UNIT;
  const i = Math.min(x | 0, COUNT - 2);
  const c = tables.cumulative;
  const g = tables.integral;
  return hermite(g[i], g[i + 1], c[i] / PER_UNIT, c[i + 1] / PER_UNIT, x - i);
}

function hermite(y0: number, y1: number, m0: number, m1: number, f: number): number {
  const d = y1 - y0;
  return y0 + f * (m0 + f * (3 * d - 2 * m0 - m1 + f * (m0 + m1 - 2 * d)));
}

/**
 * What a pixel of height 1 centred at v sees of a box of full width `width` and height 1, blurred by standard deviation
 * `sigma` (both > 0): box ⊗ Gaussian ⊗ pixel.
 */
export function pixelOfBox(v: number, width: number, sigma: number): number {
  const a = (v + width / 2) / sigma;
  const b = (v - width / 2) / sigma;
  const h = 0.5 / sigma;
  return (
    sigma * (normalIntegral(a + h) - normalIntegral(a - h) - normalIntegral(b + h) + normalIntegral(b - h))
  );
}

/** `pixelOfBox` and its slopes, pixels and 1. */
export interface BoxSlopes {
  value: number;
  byPlace: number;
  byWidth: number;
  bySigma: number;
}

/**
 * The same value with its slopes in v, width and sigma. With N = ∫Φ: N′ = Φ, and N − tΦ = φ, so that the slope in sigma is a
 * sum of densities.
 */
export function boxSlopes(v: number, width: number, sigma: number, out: BoxSlopes): void {
  const a = (v + width / 2) / sigma;
  const b = (v - width / 2) / sigma;
  const h = 0.5 / sigma;
  const rise = normalCumulative(a + h) - normalCumulative(a - h);
  const fall = normalCumulative(b + h) - normalCumulative(b - h);
  out.value =
    sigma * (normalIntegral(a + h) - normalIntegral(a - h) - normalIntegral(b + h) + normalIntegral(b - h));
  out.byPlace = rise - fall;
  out.byWidth = 0.5 * (rise + fall);
  out.bySigma = density(a + h) - density(a - h) - density(b + h) + density(b - h);
}

function density(t: number): number {
  return Math.exp(-0.5 * t * t) * 0.3989422804014327;
}
