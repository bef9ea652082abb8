/** Smoke before the first slit, from frame to frame. */
import { exp, log1p } from "../numerics/elementary/index.ts";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

export interface SmokeInput {
  /** mean optical depth, 1 */
  readonly depth: number;
  /** standard deviation of the optical depth as a share of its mean, 1 */
  readonly share: number;
  /** how long a wisp lasts, s: the depth forgets itself as e^(−t/time) */
  readonly time: number;
}

/**
 * Share of light left at equal steps of time: the optical depth is drawn log-normally (never below 0) about its mean with the stated spread, and follows a
 * first-order autoregression, the sampled form of an Ornstein–Uhlenbeck process; common practice for slow flicker, no source.
 * @param interval s between samples
 * @returns `count` shares, 0…1; the same seed gives the same series
 */
export function smokeSeries(smoke: SmokeInput, count: number, interval: number, seed: number): Float64Array {
  const random = xoroshiro128plus(seed);
  const normal = (): number => {
    let sum = 0;
    // Twelve even deviates less six: standard deviation 1, no logarithm whose last bit could differ between machines.
    for (let k = 0; k < 12; k++) sum += (random.next() >>> 0) * 2 ** -32;
    return sum - 6;
  };
  const kept = exp(-interval / smoke.time);
  const fresh = Math.sqrt(1 - kept * kept);
  // ln depth has variance ln(1 + share²), and its mean is set so that the depth's own mean is right.
  const spread = Math.sqrt(log1p(smoke.share * smoke.share));
  const out = new Float64Array(count);
  let state = normal();
  for (let i = 0; i < count; i++) {
    if (i > 0) state = kept * state + fresh * normal();
    out[i] = exp(-smoke.depth * exp(spread * state - (spread * spread) / 2));
  }
  return out;
}
