/** Temperatures of a tube over the day, and reading them at a time. */

/** Arrays of one length over time; SI units. */
export interface HeatCurve {
  /** s since the heater was switched on, or off */
  readonly time: readonly number[];
  /** K */
  readonly bottom: readonly number[];
  readonly top: readonly number[];
  readonly ends: readonly number[];
  /** power that the heater took up to this time, W */
  readonly power: readonly number[];
}

export interface HeatReading {
  /** K */
  readonly bottom: number;
  readonly top: number;
  readonly ends: number;
  /** W */
  readonly power: number;
}

/** Temperatures at a time, linear between the curve's points and held beyond them. */
export function heatAt(curve: HeatCurve, time: number): HeatReading {
  const { time: t, bottom, top, ends, power } = curve;
  let i = 0;
  while (i < t.length - 2 && t[i + 1] < time) i++;
  const alone = t.length < 2;
  const share = alone ? 0 : Math.min(1, Math.max(0, (time - t[i]) / (t[i + 1] - t[i])));
  const at = (values: readonly number[]): number =>
    alone ? values[0] : values[i] + share * (values[i + 1] - values[i]);
  return {
    bottom: at(bottom),
    top: at(top),
    ends: at(ends),
    power: power[Math.min(i + 1, power.length - 1)],
  };
}

/** First time at which the metal has reached a temperature in K; null where it never does. */
export function timeReaching({ time, bottom }: HeatCurve, temperature: number): number | null {
  for (let i = 1; i < time.length; i++) {
    if (bottom[i] < temperature) continue;
    const share = Math.max(0, (temperature - bottom[i - 1]) / (bottom[i] - bottom[i - 1]));
    return time[i - 1] + Math.min(1, share) * (time[i] - time[i - 1]);
  }
  return null;
}
