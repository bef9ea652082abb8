/** A few wavelengths that stand for the picture's light in the drawing: where it begins, ends, and bends most. */
import { screenValue, spectralHue } from "../../picture/index.ts";
import type { Setup } from "../../setup/index.ts";
import type { SightCurve, SightRay } from "./protocol.ts";

const EVENLY = 6;
/** Light that must be left for a bend to be worth drawing. */
const SEEN = 0.5;

export function raysOf(curve: SightCurve, setup: Setup): readonly SightRay[] {
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
      fill: fillOf(curve.wavelength[i]),
      bend: curve.deflection[i],
      position: (curve.column[i] - setup.camera.columns / 2) * setup.camera.pixel,
      light: 0.15 + 0.35 * curve.transmission[i],
    }));
}

function fillOf(wavelength: number): string {
  const [red, green, blue] = spectralHue(wavelength).map((linear) => Math.round(255 * screenValue(linear)));
  return `rgb(${red} ${green} ${blue})`;
}
