/** Curves put into the shape in which they are drawn. Pure. */
import type { Axis } from "../figure/scale.ts";
import type { SightCurve } from "../worker/protocol.ts";

/** Light that must be left for a group velocity to mean a pulse's. */
const CLEAR = 1 / 3;

/** Decimal logarithms, with an axis of whole powers that holds them; what is zero is not drawn. */
export function powersOfTen(values: Float64Array): { readonly y: Float64Array; readonly axis: Axis } {
  const y = values.map((value) => (value > 0 ? Math.log10(value) : Number.NaN));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of y) {
    if (Number.isNaN(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (low > high) [low, high] = [0, 1];
  return {
    y,
    axis: { label: "power of ten", unit: "1/m", from: Math.floor(low), to: Math.ceil(high + 1e-9), ticks: 5 },
  };
}

/** c over the group index where light is left, in c; NaN elsewhere. */
export function groupVelocity(curve: SightCurve): {
  readonly y: Float64Array;
  readonly axis: Axis;
  /** smallest drawn */
  readonly least: number;
} {
  const y = curve.groupIndex.map((index, i) => (curve.transmission[i] > CLEAR ? 1 / index : Number.NaN));
  let least = 1;
  for (const value of y) if (value < least) least = value;
  const from = Math.max(0, least - 0.08 * (1 - least) - 1e-6);
  return {
    y,
    least,
    axis: { label: "group velocity", unit: "c", from, to: 1 + 0.08 * (1 - from), ticks: 4 },
  };
}
