/** TIFF pictures of 8 or 16 bits and of fractions, grey or colour; the first page of several. */
import { decode } from "tiff";
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";
import { LARGEST_PIXELS } from "./png.ts";

/** PhotometricInterpretation: white is zero. TIFF 6.0 (Adobe, 1992), section 8, from memory. */
const WHITE_IS_ZERO = 0;
const PALETTE = 3;

/**
 * @throws Refusal where the bytes are no TIFF picture that can be read whole, or announce more than 100 million pixels
 */
export function decodeTiff(bytes: Uint8Array, name = "picture"): Frame {
  const refused = (received: string, expected: string): Refusal =>
    new Refusal({ code: "picture-unreadable", field: name, received, expected });
  const page = (ignoreImageData: boolean) => {
    try {
      return decode(bytes, { ignoreImageData, pages: [0] })[0];
    } catch {
      throw refused(
        "a TIFF file cut short, damaged or packed in a way that is not known",
        "a whole TIFF picture, unpacked or LZW- or Deflate-packed",
      );
    }
  };
  // The size first: a small file may announce what no memory holds.
  const { width, height } = page(true);
  if (!(width > 0 && height > 0) || width * height > LARGEST_PIXELS)
    throw refused(`a picture of ${width} × ${height} pixels`, "a picture of at most 100 million pixels");
  const image = page(false);
  const { data, samplesPerPixel, bitsPerSample } = image;
  const count = width * height;
  const keep = samplesPerPixel >= 3 ? 3 : 1;
  if (image.type === PALETTE || data.length < count * samplesPerPixel || bitsPerSample < 8)
    throw refused(
      `a TIFF picture of ${bitsPerSample} bits with ${image.type === PALETTE ? "a palette" : "too few samples"}`,
      "a TIFF picture of 8 or 16 bits, grey or colour",
    );
  const whole = data instanceof Uint8Array || data instanceof Uint16Array;
  const depth = data instanceof Uint8Array ? 8 : 16;
  const top = depth === 8 ? 255 : 65535;
  let full = 1;
  if (!whole) for (const v of data) if (v > full) full = v;
  const samples = depth === 8 ? new Uint8Array(count * keep) : new Uint16Array(count * keep);
  for (let p = 0; p < count; p++)
    for (let k = 0; k < keep; k++) {
      const v = data[p * samplesPerPixel + k];
      const sample = whole ? v : Math.round(Math.min(1, Math.max(0, v / full)) * top) || 0;
      samples[p * keep + k] = image.type === WHITE_IS_ZERO ? top - sample : sample;
    }
  return { columns: width, rows: height, channels: keep, depth, samples };
}
