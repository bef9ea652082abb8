/** Ticks and paths of a plot over typed arrays: pure, no DOM. */
import { roundTicks, type Tick } from "./ticks.ts";

export interface Axis {
  /** what it is, in words: "n − 1" */
  readonly label: string;
  /** unit as written, "" for none */
  readonly unit: string;
  readonly from: number;
  readonly to: number;
  /** ticks wanted, about */
  readonly ticks?: number;
}

/** Round values inside an axis with just the decimals they need. */
export function ticksOf(axis: Axis): readonly Tick[] {
  return roundTicks(axis.from, axis.to, axis.ticks ?? 6);
}

/** Power of ten taken out of an axis so that its ticks stay short: 3 × 10^−5 → ticks in units of 10^−5. */
export function powerOf(extent: number): number {
  if (extent === 0) return 0;
  const power = Math.floor(Math.log10(Math.abs(extent)));
  return power >= -2 && power <= 3 ? 0 : power;
}

/** Columns per pixel: fine enough that steep branches show no stairs. */
const FINE = 4;

/**
 * SVG path of y over x inside a box, y cut off a little outside it. More than two points in a quarter of a pixel are
 * drawn as that quarter's lowest and highest value, so that a narrow line never falls between two samples.
 */
export function pathOf(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  toX: (value: number) => number,
  toY: (value: number) => number,
  box: { readonly top: number; readonly bottom: number },
): string {
  const above = box.top - 40;
  const below = box.bottom + 40;
  let path = "";
  let pen = false;
  let column = Number.NaN;
  let first = 0;
  let last = 0;
  let low = 0;
  let high = 0;
  const flush = (): void => {
    if (Number.isNaN(column)) return;
    const px = (column + 0.5) / FINE;
    for (const py of first === last && low === high ? [first] : orderOf(first, low, high, last)) {
      path += `${pen ? "L" : "M"}${px.toFixed(2)} ${py.toFixed(1)}`;
      pen = true;
    }
    column = Number.NaN;
  };
  for (let i = 0; i < x.length; i++) {
    const value = y[i];
    const px = Math.floor(FINE * toX(x[i]));
    if (Number.isNaN(value)) {
      flush();
      pen = false;
      continue;
    }
    const py = Math.min(below, Math.max(above, toY(value)));
    if (px !== column) {
      flush();
      column = px;
      first = low = high = py;
    }
    last = py;
    if (py < low) low = py;
    if (py > high) high = py;
  }
  flush();
  return path;
}

/** Entry, extremes and exit of a pixel column in a sensible order, repeats left out. */
function orderOf(first: number, low: number, high: number, last: number): number[] {
  const middle = Math.abs(first - low) < Math.abs(first - high) ? [low, high] : [high, low];
  return [first, ...middle, last].filter((value, i, all) => i === 0 || value !== all[i - 1]);
}

/** Index of the array's value nearest to `target`; the array ascends. */
export function nearestIndex(ascending: ArrayLike<number>, target: number): number {
  let low = 0;
  let high = ascending.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (ascending[middle] < target) low = middle;
    else high = middle;
  }
  const toLow = Math.abs((ascending[low] ?? 0) - target);
  const toHigh = Math.abs((ascending[high] ?? 0) - target);
  return toLow <= toHigh ? low : high;
}
