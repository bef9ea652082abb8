/** Ranges and scaled copies of the sight's curves, ready to be drawn. Pure. */
import type { SightCurve } from "../worker/protocol.ts";
import { type Axis, powerOf } from "./scale.ts";

export interface Scaled {
  readonly y: Float64Array;
  readonly axis: Axis;
}

/** Light that must be left for a point to set a range: inside the gap the values run away. */
const SEEN = 0.3;

/** A curve with the power of ten taken into its axis; the range holds what can be seen in the picture. */
export function scaled(curve: SightCurve, y: Float64Array, label: string, unit: string, ticks = 4): Scaled {
  let low = 0;
  let high = 0;
  for (let i = 0; i < y.length; i++) {
    if (curve.transmission[i] < SEEN) continue;
    if (y[i] < low) low = y[i]!;
    if (y[i] > high) high = y[i]!;
  }
  if (low === 0 && high === 0) high = 1e-9;
  const power = powerOf(Math.max(high, -low));
  const factor = 10 ** -power;
  const pad = (high - low) * 0.08 * factor;
  const times = power === 0 ? "" : `10^${power < 0 ? "\u2212" : ""}${Math.abs(power)}`;
  return {
    y: y.map((value) => value * factor),
    axis: {
      label,
      unit: [times, unit].filter((part) => part !== "").join(" "),
      from: low * factor - (low < 0 ? pad : 0),
      to: high * factor + pad,
      ticks,
    },
  };
}

/** Wavelengths in nm with their axis. */
export function wavelengthAxis(
  curve: SightCurve,
  medium: "air" | "vacuum",
  ticks = 8,
): { x: Float64Array; axis: Axis } {
  const x = (medium === "air" ? curve.wavelengthAir : curve.wavelength).map((metres) => metres * 1e9);
  return {
    x,
    axis: { label: "wavelength", unit: `nm ${medium}`, from: x[0] ?? 0, to: x[x.length - 1] ?? 1, ticks },
  };
}
