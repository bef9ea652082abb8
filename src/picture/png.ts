/** PNG files in and out (ISO/IEC 15948), with sizes looked at before anything is unpacked. */
import { convertIndexedToRgb, decode, encode } from "fast-png";
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";

/** Larger pictures are refused unread. */
export const LARGEST_PIXELS = 100e6;
const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10];

/** A frame as the bytes of a PNG file, 8 or 16 bits, grey or colour. */
export function encodePng(frame: Frame): Uint8Array {
  return encode({
    width: frame.columns,
    height: frame.rows,
    data: frame.samples,
    depth: frame.depth,
    channels: frame.channels,
  });
}

/**
 * A PNG file as a frame. Depths below 8 are spread to 8 bits; an alpha channel is dropped; palettes become colour.
 * @param name what to call the file in a refusal
 * @throws Refusal where the bytes are not a PNG, are cut short or damaged, or announce more than 100 million pixels
 */
export function decodePng(bytes: Uint8Array, name = "picture"): Frame {
  const { columns, rows } = sizeOf(bytes, name);
  let png: ReturnType<typeof decode>;
  try {
    png = decode(bytes, { checkCrc: true });
  } catch {
    throw refused(name, "a PNG file cut short or damaged", "a whole PNG file");
  }
  let { data, channels } = png;
  if (png.palette !== undefined) {
    data = convertIndexedToRgb(png);
    channels = data.length / (columns * rows);
  } else if (png.depth < 8) data = spread(png.data as Uint8Array, png.depth, columns, rows);
  const depth = png.depth === 16 ? 16 : 8;
  const keep = channels >= 3 ? 3 : 1;
  if (data.length < columns * rows * channels)
    throw refused(name, "a PNG file cut short or damaged", "a whole PNG file");
  const samples =
    depth === 16 ? new Uint16Array(columns * rows * keep) : new Uint8Array(columns * rows * keep);
  for (let p = 0, from = 0, to = 0; p < columns * rows; p++, from += channels) {
    for (let c = 0; c < keep; c++) samples[to++] = data[from + c]!;
  }
  return { columns, rows, channels: keep, depth, samples };
}

/** Width and height from the header alone. */
function sizeOf(bytes: Uint8Array, name: string): { columns: number; rows: number } {
  if (bytes.length < 8 || SIGNATURE.some((b, i) => bytes[i] !== b)) {
    throw refused(name, "bytes that do not begin like a PNG file", "a PNG file");
  }
  if (bytes.length < 33) throw refused(name, "a PNG file cut short or damaged", "a whole PNG file");
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const columns = view.getUint32(16);
  const rows = view.getUint32(20);
  if (columns === 0 || rows === 0 || columns * rows > LARGEST_PIXELS) {
    throw refused(
      name,
      `a picture of ${columns} × ${rows} pixels`,
      "a picture of at most 100 million pixels",
    );
  }
  return { columns, rows };
}

/** Packed samples of 1, 2 or 4 bits as 0…255. */
function spread(packed: Uint8Array, depth: number, columns: number, rows: number): Uint8Array {
  const out = new Uint8Array(columns * rows);
  const perRow = Math.ceil((columns * depth) / 8);
  const top = (1 << depth) - 1;
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const bit = c * depth;
      const byte = packed[r * perRow + (bit >> 3)];
      out[r * columns + c] = (((byte >> (8 - depth - (bit & 7))) & top) * 255) / top;
    }
  }
  return out;
}

function refused(name: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "picture-unreadable", field: name, received, expected });
}
