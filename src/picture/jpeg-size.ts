/** Width and height of a JPEG file from its frame header (ITU-T T.81, annex B, from memory), without unpacking it. */
import type { PixelSize } from "./api.ts";

/** Null where no frame header is found before the samples begin. */
export function jpegSize(bytes: Uint8Array): PixelSize | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1];
    // Fill bytes, and markers that stand alone.
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2;
      continue;
    }
    // C0…CF are frame headers, but for the tables C4, C8 and CC.
    const frame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (frame) {
      const size = { rows: view.getUint16(at + 5), columns: view.getUint16(at + 7) };
      return size.rows > 0 && size.columns > 0 ? size : null;
    }
    if (marker === 0xda || marker === 0xd9) return null;
    at += 2 + view.getUint16(at + 2);
  }
  return null;
}
