/** The few plain words for an audience, each with the place it speaks of; pure, from the forecast. */
import type { Sight } from "../worker/protocol.ts";
import { choiceWords } from "../words/elements.ts";

export interface Label {
  readonly text: string;
  /** place in the picture, shares of its width and height from the upper left; undefined where it speaks of the whole */
  readonly at: { readonly x: number; readonly y: number } | undefined;
}

/** In the order in which they are shown, one at a time. */
export function labelsOf(sight: Sight): readonly Label[] {
  const { curve, setup, lines } = sight;
  const { columns, rows } = setup.camera;
  const n = curve.wavelength.length;
  const metal = choiceWords(setup.vessel.element);
  const placeOf = (i: number): Label["at"] => ({ x: curve.column[i] / columns, y: curve.row[i] / rows });
  const inside = (i: number): boolean =>
    curve.column[i] > 0.02 * columns &&
    curve.column[i] < 0.98 * columns &&
    curve.row[i] > 0.02 * rows &&
    curve.row[i] < 0.98 * rows &&
    curve.transmission[i] > 0.5;
  let highest = -1;
  let lowest = -1;
  let straightest = 0;
  for (let i = 0; i < n; i++) {
    if (!inside(i)) continue;
    if (highest < 0 || curve.row[i] < curve.row[highest]) highest = i;
    if (lowest < 0 || curve.row[i] > curve.row[lowest]) lowest = i;
    if (Math.abs(curve.deflection[i]) < Math.abs(curve.deflection[straightest])) straightest = i;
  }
  const [line] = [...lines].sort((a, b) => (b.halfGap ?? 0) - (a.halfGap ?? 0));
  const gap = line === undefined ? -1 : nearest(curve.wavelength, line.wavelength);
  const labels: Label[] = [
    { text: "Every colour has its own place from left to right.", at: undefined },
    { text: "Without the vapour this would be one straight line.", at: placeOf(straightest) },
  ];
  if (gap >= 0)
    labels.push({
      text: `Here ${metal} swallows its own colour.`,
      at: { x: curve.column[gap] / columns, y: 0.5 },
    });
  if (highest >= 0 && lowest >= 0 && highest !== lowest)
    labels.push(
      { text: "On one side of it the light is bent one way …", at: placeOf(highest) },
      { text: "… on the other side the other way.", at: placeOf(lowest) },
      { text: "The curve draws how fast light runs in the vapour, colour by colour.", at: undefined },
    );
  return labels;
}

function nearest(ascending: Float64Array, value: number): number {
  let best = 0;
  for (let i = 1; i < ascending.length; i++)
    if (Math.abs(ascending[i] - value) < Math.abs(ascending[best] - value)) best = i;
  return best;
}
