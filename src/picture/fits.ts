/** FITS pictures, the common file of astronomy cameras: header cards of 80 characters, then big-endian samples. */
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";
import { LARGEST_PIXELS } from "./png.ts";

const CARD = 80;
const BLOCK = 2880;
/** Header blocks after which no end is to be expected any more. */
const MOST_BLOCKS = 400;
/** Bytes of a sample by BITPIX. */
const SIZES: Readonly<Record<number, number>> = { 8: 1, 16: 2, 32: 4, 64: 8, [-32]: 4, [-64]: 8 };

type Cards = ReadonlyMap<string, string>;

/**
 * The first image of a FITS file as a frame: all six sample types, BZERO and BSCALE applied, one plane or three of colour.
 * Rows come bottom first unless ROWORDER says TOP-DOWN. Full scale: 255 for bytes, 65535 for 16-bit files with BZERO 32768 and
 * whatever stays below it, 32767 for plain signed ones, 1 for fractions up to 1, else the largest sample; what is below 0 or no number becomes 0.
 * Exposure from EXPTIME or EXPOSURE. Format: FITS Standard 4.0 (IAU, 2018), from memory; ROWORDER: common practice, no source.
 * @throws Refusal where the bytes are no FITS picture, are cut short, or announce more than 100 million pixels
 */
export function decodeFits(bytes: Uint8Array, name = "picture"): Frame {
  const { cards, start } = headerOf(bytes, name);
  const bits = whole(cards, "BITPIX", name);
  const size = SIZES[bits];
  const axes = whole(cards, "NAXIS", name);
  if (size === undefined || axes < 2)
    throw refused(name, `BITPIX ${bits} and NAXIS ${axes}`, "a picture of two or three axes");
  const columns = whole(cards, "NAXIS1", name);
  const rows = whole(cards, "NAXIS2", name);
  const planes = axes > 2 ? whole(cards, "NAXIS3", name) : 1;
  if (!(columns > 0 && rows > 0) || columns * rows > LARGEST_PIXELS)
    throw refused(
      name,
      `a picture of ${columns} × ${rows} pixels`,
      "a picture of at most 100 million pixels",
    );
  if (planes !== 1 && planes !== 3)
    throw refused(name, `${planes} planes`, "one plane of grey or three of colour");
  const count = columns * rows * planes;
  if (bytes.length < start + count * size) throw refused(name, "a FITS file cut short", "a whole FITS file");
  const values = samplesOf(bytes, start, count, bits, cards);
  const full = fullScale(values, bits, cards);
  const depth = bits === 8 && full === 255 ? 8 : 16;
  const top = depth === 8 ? 255 : 65535;
  const samples = depth === 8 ? new Uint8Array(count) : new Uint16Array(count);
  const upward = !/TOP-?DOWN/i.test(cards.get("ROWORDER") ?? "");
  for (let plane = 0; plane < planes; plane++)
    for (let r = 0; r < rows; r++) {
      const from = (plane * rows + (upward ? rows - 1 - r : r)) * columns;
      for (let c = 0; c < columns; c++) {
        const share = values[from + c] / full;
        samples[(r * columns + c) * planes + plane] = share > 0 ? Math.round(Math.min(1, share) * top) : 0;
      }
    }
  const exposure = Number(cards.get("EXPTIME") ?? cards.get("EXPOSURE"));
  return {
    columns,
    rows,
    channels: planes,
    depth,
    samples,
    gamma: 1,
    ...(exposure > 0 && Number.isFinite(exposure) ? { exposure } : {}),
  };
}

function headerOf(bytes: Uint8Array, name: string): { cards: Cards; start: number } {
  const cards = new Map<string, string>();
  for (let at = 0; at + CARD <= bytes.length && at < MOST_BLOCKS * BLOCK; at += CARD) {
    const card = String.fromCharCode(...bytes.subarray(at, at + CARD));
    const key = card.slice(0, 8).trim();
    if (at === 0 && key !== "SIMPLE")
      throw refused(name, "bytes that do not begin like a FITS file", "a FITS file");
    if (key === "END") return { cards, start: Math.ceil((at + CARD) / BLOCK) * BLOCK };
    if (card[8] !== "=") continue;
    const value = card.slice(10);
    const quoted = /^\s*'((?:[^']|'')*)'/.exec(value);
    cards.set(key, quoted === null ? (value.split("/")[0] ?? "").trim() : (quoted[1] ?? "").trim());
  }
  throw refused(name, "a FITS header without an end", "a whole FITS file");
}

function whole(cards: Cards, key: string, name: string): number {
  const value = Number(cards.get(key) ?? "missing");
  if (Number.isInteger(value)) return value;
  throw refused(name, `${key} = ${JSON.stringify(cards.get(key) ?? "nothing")}`, `a whole number for ${key}`);
}

function samplesOf(
  bytes: Uint8Array,
  start: number,
  count: number,
  bits: number,
  cards: Cards,
): Float64Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset + start);
  const zero = Number(cards.get("BZERO") ?? 0) || 0;
  const scale = Number(cards.get("BSCALE") ?? 1) || 1;
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let raw: number;
    if (bits === 8) raw = view.getUint8(i);
    else if (bits === 16) raw = view.getInt16(2 * i);
    else if (bits === 32) raw = view.getInt32(4 * i);
    else if (bits === 64) raw = Number(view.getBigInt64(8 * i));
    else if (bits === -32) raw = view.getFloat32(4 * i);
    else raw = view.getFloat64(8 * i);
    const value = zero + scale * raw;
    values[i] = Number.isFinite(value) ? value : 0;
  }
  return values;
}

function fullScale(values: Float64Array, bits: number, cards: Cards): number {
  let largest = 0;
  for (const v of values) if (v > largest) largest = v;
  if (bits === 8 && largest <= 255) return 255;
  if (bits === 16) return Number(cards.get("BZERO") ?? 0) === 0 ? 32767 : 65535;
  if (bits < 0 && largest <= 1) return 1;
  return Math.max(largest, 65535);
}

function refused(name: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "picture-unreadable", field: name, received, expected });
}
