/** Axes of a figure: where a value lies between the two ends, and which round values stand at them. */

export interface AxisTick {
  /** 0 at the lower end, 1 at the upper */
  readonly at: number;
  /** powers of ten as "10^-5" */
  readonly text: string;
}

export interface FigureAxis {
  readonly kind: "linear" | "log" | "symlog";
  /** place of a value, 0 at the lower end to 1 at the upper; beyond the ends where the value is */
  place(value: number): number;
  readonly ticks: readonly AxisTick[];
}

/** Most decades between the linear middle of a symlog axis and its end, and of a log axis. */
const MOST_DECADES = 6;
/** Ticks on one side of zero. */
const MOST_TICKS = 5;
/** Share of the axis about zero that is kept free of other numbers. */
const CLEAR = 0.075;

/** Round values between two ends, about `wanted` of them, low < high. */
export function linearAxis(low: number, high: number, wanted = 6): FigureAxis {
  const raw = (high - low) / wanted;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * ([1, 2, 5, 10].find((each) => each * power >= raw * 0.8) ?? 10);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: AxisTick[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++)
    ticks.push({ at: (k * step - low) / (high - low), text: signed((k * step).toFixed(decimals)) });
  return { kind: "linear", place: (value) => (value - low) / (high - low), ticks };
}

/**
 * An axis for values of either sign: sign(v)·log₁₀(1 + |v|/v₀), v₀ a power of ten near the small ones; or a linear axis where
 * all values have one sign and one order of magnitude.
 */
export function symlogAxis(values: Float64Array): FigureAxis {
  const sizes = values.map(Math.abs).sort();
  const largest = sizes[sizes.length - 1];
  const low = values.reduce((least, each) => Math.min(least, each), Infinity);
  const high = values.reduce((most, each) => Math.max(most, each), -Infinity);
  if (low * high > 0 && sizes[0] * 10 > largest) {
    const margin = 0.08 * (high - low) || 0.05 * largest;
    return linearAxis(low - margin, high + margin, 5);
  }
  const top = largest === 0 ? 0 : Math.ceil(Math.log10(largest) - 1e-9);
  const small = sizes[Math.floor(sizes.length / 10)];
  const least = small === 0 ? top - MOST_DECADES : Math.floor(Math.log10(small));
  const first = Math.max(top - MOST_DECADES, Math.min(top - 1, least));
  const middle = 10 ** first;
  const bent = (value: number): number => Math.sign(value) * Math.log10(1 + Math.abs(value) / middle);
  const from = low < 0 ? bent(1.3 * low) : 0;
  const to = high > 0 || low === high ? bent(1.3 * Math.max(high, middle)) : 0;
  const place = (value: number): number => (bent(value) - from) / (to - from);
  const stride = Math.ceil((top - first + 1) / MOST_TICKS);
  const ticks: AxisTick[] = [{ at: place(0), text: "0" }];
  for (let k = top; k >= first; k -= stride) {
    for (const sign of [1, -1]) {
      const at = place(sign * 10 ** k);
      if (at >= 0 && at <= 1 && Math.abs(at - place(0)) > CLEAR)
        ticks.push({ at, text: `${sign < 0 ? "\u2212" : ""}${power(k)}` });
    }
  }
  return { kind: "symlog", place, ticks };
}

/** A logarithmic axis over the positive values, or undefined where there is none; values of 0 lie below its end. */
export function logAxis(values: Float64Array): FigureAxis | undefined {
  const positive = values.filter((each) => each > 0);
  if (positive.length === 0) return undefined;
  const high = Math.log10(positive.reduce((most, each) => Math.max(most, each))) + 0.15;
  const least = Math.log10(positive.reduce((low, each) => Math.min(low, each))) - 0.15;
  const low = Math.max(least, high - 2 * MOST_DECADES);
  const bottom = high - low < 1 ? high - 1 : low;
  const place = (value: number): number => (Math.log10(value) - bottom) / (high - bottom);
  const stride = Math.ceil((high - bottom) / 6);
  const ticks: AxisTick[] = [];
  for (let k = Math.floor(high); k >= bottom; k -= stride) ticks.push({ at: place(10 ** k), text: power(k) });
  return { kind: "log", place, ticks };
}

function power(k: number): string {
  if (k >= 0 && k <= 3) return String(10 ** k);
  return k < 0 && k >= -2 ? (10 ** k).toFixed(-k) : `10^${k}`;
}

const signed = (text: string): string => text.replace("-", "\u2212");
