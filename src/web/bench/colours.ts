/** A few wavelengths that stand for the picture's light in the drawing: where it begins, ends, and bends most. */
import type { Sight } from "../worker/protocol.ts";

export interface Colour {
  /** CSS colour */
  readonly fill: string;
  /** deflection at the tube, rad */
  readonly bend: number;
  /** where it falls on the sensor, m from its middle, positive right */
  readonly position: number;
  /** opacity: share of light left, never quite nothing */
  readonly light: number;
}

const EVENLY = 6;
/** Light that must be left for a bend to be worth drawing. */
const SEEN = 0.5;

export function coloursOf(sight: Sight): readonly Colour[] {
  const { curve, setup } = sight;
  const n = curve.wavelength.length;
  if (n === 0) return [];
  const chosen = new Set<number>();
  for (let i = 0; i < EVENLY; i++) chosen.add(Math.round((i * (n - 1)) / (EVENLY - 1)));
  let up = 0;
  let down = 0;
  for (let i = 0; i < n; i++) {
    if (curve.transmission[i] < SEEN) continue;
    if (curve.deflection[i] > curve.deflection[up] || curve.transmission[up] < SEEN) up = i;
    if (curve.deflection[i] < curve.deflection[down] || curve.transmission[down] < SEEN) down = i;
  }
  chosen.add(up).add(down);
  return [...chosen]
    .filter((i) => curve.transmission[i] >= SEEN)
    .sort((a, b) => a - b)
    .map((i) => ({
      fill: `rgb(${curve.colour[3 * i]} ${curve.colour[3 * i + 1]} ${curve.colour[3 * i + 2]})`,
      bend: curve.deflection[i],
      position: (curve.column[i] - setup.camera.columns / 2) * setup.camera.pixel,
      light: 0.15 + 0.35 * curve.transmission[i],
    }));
}
