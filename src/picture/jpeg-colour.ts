/**
 * JPEG components brought to one size and to colours: a component stored at half the size is drawn out with weights of ¾ and ¼ (each new
 * sample stands a quarter of a step beside its neighbour), others are repeated; brightness and two colours become red, green and blue
 * (JFIF 1.02, ITU-R BT.601). Rounding is common practice: bit for bit what the usual libraries give (jpeg.test.ts).
 */

/** A component's own samples. */
export interface Plane {
  readonly columns: number;
  readonly rows: number;
  /** samples from one row to the next in `samples` */
  readonly stride: number;
  readonly samples: Uint8ClampedArray;
}

/** One row of a plane drawn out to full width. */
type Stretch = (plane: Plane, row: number, out: Uint8Array) => void;

/**
 * @param across times that the plane is stretched, whole
 * @param down the same
 */
export function stretcher(plane: Plane, across: number, down: number): Stretch {
  if (across === 2 && down === 1 && plane.columns > 2) return twiceAcross;
  if (across === 2 && down === 2 && plane.columns > 2) return twiceBoth;
  if (across === 1 && down === 2) return twiceDown;
  return (from, row, out) => {
    const base = Math.floor(row / down) * from.stride;
    for (let c = 0; c < out.length; c++) out[c] = from.samples[base + Math.floor(c / across)];
  };
}

const twiceAcross: Stretch = ({ samples, stride, columns }, row, out) => {
  const base = row * stride;
  for (let c = 0; c < out.length; c++) {
    const at = c >> 1;
    const own = samples[base + at];
    const beside = (c & 1) === 0 ? at - 1 : at + 1;
    if (beside < 0 || beside >= columns) out[c] = own;
    else out[c] = (3 * own + samples[base + beside] + 1 + (c & 1)) >> 2;
  }
};

/** The row that a full-size row lies in, and the one that it leans to; the edges lean to themselves. */
function rowsOf({ stride, rows }: Plane, row: number): readonly [number, number] {
  const at = row >> 1;
  const other = Math.min(rows - 1, Math.max(0, (row & 1) === 0 ? at - 1 : at + 1));
  return [at * stride, other * stride];
}

const twiceDown: Stretch = (plane, row, out) => {
  const [own, other] = rowsOf(plane, row);
  const { samples } = plane;
  for (let c = 0; c < out.length; c++)
    out[c] = (3 * samples[own + c] + samples[other + c] + 1 + (row & 1)) >> 2;
};

const twiceBoth: Stretch = (plane, row, out) => {
  const [own, other] = rowsOf(plane, row);
  const { samples, columns } = plane;
  const sum = (at: number): number => 3 * samples[own + at] + samples[other + at];
  for (let c = 0; c < out.length; c++) {
    const at = c >> 1;
    const beside = Math.min(columns - 1, Math.max(0, (c & 1) === 0 ? at - 1 : at + 1));
    out[c] = (3 * sum(at) + sum(beside) + 8 - (c & 1)) >> 4;
  }
};

const HALF = 1 << 15;
const share = (value: number): number => Math.round(value * 65_536);
const [RED, GREEN_RED, GREEN_BLUE, BLUE] = [share(1.402), share(0.71414), share(0.34414), share(1.772)];

/** Brightness and two colours of one row → red, green, blue, three samples a pixel from `at` on. */
export function coloursOf(
  brightness: Uint8Array,
  blueness: Uint8Array,
  redness: Uint8Array,
  out: Uint8ClampedArray,
  at: number,
): void {
  for (let c = 0, q = at; c < brightness.length; c++, q += 3) {
    const y = brightness[c];
    const b = blueness[c] - 128;
    const r = redness[c] - 128;
    out[q] = y + ((RED * r + HALF) >> 16);
    out[q + 1] = y + ((HALF - GREEN_BLUE * b - GREEN_RED * r) >> 16);
    out[q + 2] = y + ((BLUE * b + HALF) >> 16);
  }
}
