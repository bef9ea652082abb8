/** The ledger of the dark in colours: as a strip of its own, and over a picture. Each column is a stack, recorded light at the bottom, the other fates above it. */
import { FATE_TINTS, FATES } from "./fates.ts";
import type { ColumnShares } from "./ledger.ts";
import type { Workspace } from "./workspace.ts";

/** Opaque black. */
const BLACK = 0xff000000;
/** How strong the tints lie over a picture. */
const STRENGTH = 0.45;
/** Weights of red, green and blue in the brightness of a screen colour (ITU-R BT.709). */
const BRIGHTNESS = [0.2126, 0.7152, 0.0722] as const;

/** A step up the stack: from a row on, a column has come to a fate. */
interface Steps {
  /** [r] where the steps of row r begin, and at the end how many there are; rows from the bottom */
  readonly from: Int32Array;
  readonly column: Int32Array;
  readonly fate: Uint8Array;
}

/**
 * Where the stacks of a picture of so many rows change, row by row from the bottom: few pixels begin a new fate, and the others need not be asked.
 * Columns of which nothing is known have no steps.
 */
function stepsOf({ columns, upTo, lit }: ColumnShares, rows: number): Steps {
  const count = FATES.length;
  // First row, from the bottom, whose middle lies above all fates up to and with f: there the next one begins. What rounding leaves at the top belongs to the first fate.
  const rowAbove = (c: number, f: number): number =>
    Math.min(rows, Math.max(0, Math.floor(upTo[c * count + f] * rows + 0.5)));
  const from = new Int32Array(rows + 2);
  const each = (take: (row: number, column: number, fate: number) => void): void => {
    for (let c = 0; c < columns; c++) {
      if (lit[c] === 0) continue;
      let row = 0;
      for (let f = count - 1; f >= 0; f--) {
        const next = f === 0 ? rows : rowAbove(c, f);
        if (next > row) take(row, c, f);
        row = Math.max(row, next);
      }
    }
  };
  each((row) => {
    from[row + 2]++;
  });
  for (let r = 2; r < from.length; r++) from[r] += from[r - 1];
  const column = new Int32Array(from[rows + 1]);
  const fate = new Uint8Array(from[rows + 1]);
  each((row, c, f) => {
    const at = from[row + 1]++;
    column[at] = c;
    fate[at] = f;
  });
  return { from, column, fate };
}

/**
 * Ledger as a picture.
 * @param rows height of the strip, pixels
 * @returns RGBA, columns × rows, opaque; black where nothing is known
 */
export function ledgerStrip(shares: ColumnShares, rows: number): Uint8ClampedArray<ArrayBuffer> {
  const { columns } = shares;
  const out = new Uint8ClampedArray(columns * rows * 4);
  const words = new Uint32Array(out.buffer);
  const tints = FATES.map((fate) => wordOf(FATE_TINTS[fate]));
  const { from, column, fate } = stepsOf(shares, rows);
  const row = new Uint32Array(columns).fill(BLACK);
  for (let r = 0; r < rows; r++) {
    for (let k = from[r]; k < from[r + 1]; k++) row[column[k]] = tints[fate[k]];
    words.set(row, (rows - 1 - r) * columns);
  }
  return out;
}

/**
 * Lays the tints over a picture, as two lamps on one screen: 1 − (1 − picture)(1 − 0.45 tint) in the screen's own values, rounded.
 * @param rgba RGBA, opaque, row-major, as wide as the shares; written over
 * @param grey true draws tints as greys of their brightness, for a picture that is grey itself
 * @param space the workspace where the picture lies in one: its kernel does the same sooner
 */
export function tintPicture(
  rgba: Uint8ClampedArray,
  shares: ColumnShares,
  grey: boolean,
  space?: Workspace,
): void {
  const { columns } = shares;
  const rows = rgba.length / 4 / columns;
  const tints = FATES.map((fate) => overlay(FATE_TINTS[fate], grey));
  const kernel = rgba.buffer === space?.arrays.words.buffer ? space.kernel : undefined;
  const row = kernel === undefined || space === undefined ? new Uint32Array(columns) : space.arrays.tints;
  row.fill(0);
  // What the kernel takes is whole quadruples of pixels.
  const few = kernel === undefined ? 0 : columns & ~3;
  const { from, column, fate } = stepsOf(shares, rows);
  for (let r = 0; r < rows; r++) {
    for (let k = from[r]; k < from[r + 1]; k++) row[column[k]] = tints[fate[k]];
    const start = (rows - 1 - r) * columns * 4;
    kernel?.tint(rgba.byteOffset + start, row.byteOffset, few * 4);
    for (let c = few, at = start + few * 4; c < columns; c++) {
      for (let part = 0; part < 24; part += 8, at++) {
        const half = ((row[c] >>> part) & 255) * (255 - rgba[at]) + 128;
        rgba[at] += (half + (half >> 8)) >> 8;
      }
      at++;
    }
  }
}

/** What a tint adds to black, as a word without opacity. */
function overlay(tint: readonly [number, number, number], grey: boolean): number {
  const brightness = tint.reduce((sum, value, part) => sum + BRIGHTNESS[part] * value, 0);
  const [red, green, blue] = tint.map((value) => Math.round(STRENGTH * (grey ? brightness : value)));
  return (blue << 16) | (green << 8) | red;
}

/** A pixel's four bytes read as one number. */
function wordOf([red, green, blue]: readonly number[]): number {
  return (BLACK | (blue << 16) | (green << 8) | red) >>> 0;
}
