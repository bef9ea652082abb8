/** Scales of the plate: wavelengths along it, heights up it. Pure. */
import { nearestIndex } from "../figure/scale.ts";
import { roundTicks } from "../figure/ticks.ts";
import type { SightCurve } from "../worker/protocol.ts";

export interface PlateTick {
  /** pixels of the picture from its left or top edge */
  readonly at: number;
  readonly text: string;
}

/** Linear interpolation of y at x; x ascends. */
export function interpolate(x: Float64Array, y: Float64Array, at: number): number {
  const near = nearestIndex(x, at);
  const i = Math.max(0, Math.min(x.length - 2, at < x[near] ? near - 1 : near));
  const span = x[i + 1] - x[i];
  return span === 0 ? y[i] : y[i] + ((at - x[i]) / span) * (y[i + 1] - y[i]);
}

/** Round wavelengths with the column where each falls. */
export function wavelengthTicks(
  curve: SightCurve,
  columns: number,
  medium: "air" | "vacuum",
  wanted: number,
): readonly PlateTick[] {
  const wavelengths = medium === "air" ? curve.wavelengthAir : curve.wavelength;
  if (wavelengths.length < 2) return [];
  const from = interpolate(curve.column, wavelengths, 0) * 1e9;
  const to = interpolate(curve.column, wavelengths, columns) * 1e9;
  return roundTicks(from, to, wanted)
    .map(({ value, text }) => ({ at: interpolate(wavelengths, curve.column, value * 1e-9), text }))
    .filter((tick) => tick.at >= 0 && tick.at <= columns);
}

/** Ticks of a height scale centred on the undeflected line: `perRow` is the height of one row. */
export function heightTicks(rows: number, perRow: number, wanted: number): readonly PlateTick[] {
  const half = (rows / 2) * Math.abs(perRow);
  if (!(half > 0)) return [];
  return roundTicks(-half, half, wanted).map(({ value, text }) => ({ at: rows / 2 - value / perRow, text }));
}
