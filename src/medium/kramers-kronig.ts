/**
 * Kramers–Kronig: the index that belongs to an absorption. For media known by a formula use the formula instead.
 *
 *     n(ω) − 1 = (2/π) P∫ ω′ κ(ω′)/(ω′² − ω²) dω′ ,   κ = Im n = α c/(2ω)
 */
import { exp, log, log1p } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import { SPEED_OF_LIGHT } from "../reference/index.ts";

/** κ over angular frequency, straight between the points and zero outside them. */
export interface Extinction {
  /** rad/s, strictly ascending */
  readonly omegas: Float64Array;
  /** Im n, same length */
  readonly kappas: Float64Array;
}

/**
 * The dispersion integral of a piecewise linear κ, in closed form, so that the singularity never meets a quadrature.
 * With the slope of κ changing by Δb at each point x (to and from 0 at the ends),
 *
 *     n − 1 = (1/π)·{ Σ (−Δb)·[(ω − x) ln|(ω − x)/ω| − (ω + x) ln((ω + x)/2ω)] + ends + 2(κ_last − κ_first) }
 *
 * where a table that ends on κ ≠ 0 adds κ·[ln|(x − ω)/ω| + ln((x + ω)/2ω)] with the sign of that end. The logarithms are
 * taken relative to ω: beside a narrow line they keep the digits that ln ω would eat.
 *
 * @param at angular frequencies, rad/s, > 0; at an end of the table where κ does not vanish the true integral is infinite
 *   and the value given means nothing: stay one interval inside
 * @returns n − 1 by the tabulated absorption alone, length of `at`
 */
export function kramersKronig({ omegas, kappas }: Extinction, at: Float64Array): Float64Array {
  const n = omegas.length;
  if (n < 2 || kappas.length !== n)
    throw new Error(`Kramers–Kronig needs at least 2 points of equal number, got ${n}`);
  const bends = new Float64Array(n);
  for (let i = 0; i + 1 < n; i++) {
    const b = (kappas[i + 1] - kappas[i]) / (omegas[i + 1] - omegas[i]);
    bends[i] -= b;
    bends[i + 1] += b;
  }
  const last = n - 1;
  const result = new Float64Array(at.length);
  for (let j = 0; j < at.length; j++) {
    const omega = at[j];
    let sum = 2 * (kappas[last] - kappas[0]);
    for (let i = 0; i < n; i++) {
      const offset = omegas[i] - omega;
      const plus = log1p(offset / (2 * omega));
      const minus = offset === 0 ? 0 : log(Math.abs(offset) / omega);
      sum -= bends[i] * (offset * minus + (omegas[i] + omega) * plus);
      if (i === 0) sum -= kappas[0] * (minus + plus);
      else if (i === last) sum += kappas[last] * (minus + plus);
    }
    result[j] = sum / Math.PI;
  }
  return result;
}

/**
 * κ from a table over wavelength, filled in between its points by a monotone cubic in ln ω (of ln κ where all κ > 0, as
 * tables over many decades need, else of κ), `fill` intervals for one.
 *
 * @param wavelengths vacuum, m, in any strict order
 */
export function extinctionOf(wavelengths: Float64Array, kappas: Float64Array, fill = 16): Extinction {
  const order = Array.from(wavelengths.keys()).sort((i, j) => wavelengths[j] - wavelengths[i]);
  const logs = Float64Array.from(order, (i) => log((2 * Math.PI * SPEED_OF_LIGHT) / wavelengths[i]));
  const values = Float64Array.from(order, (i) => kappas[i]);
  const positive = values.every((kappa) => kappa > 0);
  const curve = new MonotoneCubic(logs, positive ? values.map(log) : values);
  const count = (logs.length - 1) * fill + 1;
  const omegas = new Float64Array(count);
  const filled = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const i = Math.min(Math.floor(k / fill), logs.length - 2);
    const x = logs[i] + ((logs[i + 1] - logs[i]) * (k - i * fill)) / fill;
    omegas[k] = exp(x);
    filled[k] = positive ? exp(curve.value(x)) : curve.value(x);
  }
  return { omegas, kappas: filled };
}

/**
 * How far absorption outside a table can move n at one frequency against n at another, if outside it the absorption
 * coefficient nowhere exceeds `alpha`: with κ = α c/(2ω′) the integral is closed,
 * |δn(ω) − δn(ω_a)| ≤ (c α/π)·|I(ω) − I(ω_a)|, I(ω) = (1/2ω)·[ln((ω₂ + ω)/(ω₂ − ω)) − ln((ω + ω₁)/(ω − ω₁))]
 * over ω₁ … ω₂ of the table. Grows without limit towards the ends of the table, as it must.
 *
 * @param alpha 1/m
 * @param anchor frequency at which n is known, rad/s; undefined: against no absorption outside at all, then the two
 *   sides are added in size
 */
export function outsideBound(
  { omegas }: Extinction,
  alpha: number,
  omega: number,
  anchor: number | undefined,
): number {
  const first = omegas[0];
  const last = omegas[omegas.length - 1];
  const above = (w: number): number => log((last + w) / (last - w)) / (2 * w);
  const below = (w: number): number => log((w + first) / (w - first)) / (2 * w);
  const scale = (SPEED_OF_LIGHT * alpha) / Math.PI;
  if (anchor === undefined) return scale * (above(omega) + below(omega));
  return scale * Math.abs(above(omega) - below(omega) - above(anchor) + below(anchor));
}
