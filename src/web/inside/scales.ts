/** Scales of the maps and profiles, and contours through a table. Pure. */
import { type Axis, powerOf, ticksOf } from "../figure/scale.ts";
import type { Field2D } from "../worker/protocol.ts";

/** A profile with the power of ten taken into its axis, from zero up except for temperatures. */
export function profileAxis(
  y: Float64Array,
  label: string,
  unit: string,
): { readonly y: Float64Array; readonly axis: Axis } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of y) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (unit !== "°C") low = 0;
  if (!(high > low)) high = low + 1;
  const power = powerOf(Math.max(Math.abs(low), Math.abs(high)));
  const factor = 10 ** -power;
  const pad = 0.06 * (high - low) * factor;
  const times = power === 0 ? "" : `10^${power < 0 ? "\u2212" : ""}${Math.abs(power)}`;
  return {
    y: y.map((value) => value * factor),
    axis: {
      label,
      unit: [times, unit].filter((part) => part !== "").join(" "),
      from: low * factor - (low === 0 ? 0 : pad),
      to: high * factor + pad,
      ticks: 4,
    },
  };
}

/** Round values inside a range, for contours and the key. */
export function levelsOf(
  from: number,
  to: number,
  wanted = 5,
): readonly { readonly value: number; readonly text: string }[] {
  if (!(to > from)) return [];
  return ticksOf({ label: "", unit: "", from, to, ticks: wanted }).filter(
    ({ value }) => value > from && value < to,
  );
}

/**
 * Contour of a table at a level as an SVG path, by straight pieces in each square of four cell centres.
 * Coordinates: 0…columns across and 0…rows down, cell centres at halves.
 */
export function contourPath({ columns, rows, values }: Field2D, level: number): string {
  let path = "";
  const share = (a: number, b: number): number => (level - a) / (b - a);
  for (let r = 0; r + 1 < rows; r++) {
    for (let c = 0; c + 1 < columns; c++) {
      const at = r * columns + c;
      const [a, b, d, e] = [values[at], values[at + 1], values[at + columns], values[at + columns + 1]];
      const [x, y] = [c + 0.5, r + 0.5];
      const points: (readonly [number, number])[] = [];
      if (a < level !== b < level) points.push([x + share(a, b), y]);
      if (b < level !== e < level) points.push([x + 1, y + share(b, e)]);
      if (d < level !== e < level) points.push([x + share(d, e), y + 1]);
      if (a < level !== d < level) points.push([x, y + share(a, d)]);
      // Four crossings are a saddle: the pieces are joined in the order in which they stand round the square.
      for (let i = 0; i + 1 < points.length; i += 2) {
        const [[x0, y0], [x1, y1]] = [points[i], points[i + 1]];
        path += `M${x0.toFixed(2)} ${y0.toFixed(2)}L${x1.toFixed(2)} ${y1.toFixed(2)}`;
      }
    }
  }
  return path;
}
