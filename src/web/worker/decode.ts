/** Dropped files as frames: PNG kept to its last bit by the core, JPEG through the browser. */
import { decodePng, type Frame, LARGEST_PIXELS } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import type { PhotoFile } from "./protocol.ts";

export async function decodePhoto(file: PhotoFile): Promise<Frame> {
  const bytes = new Uint8Array(file.bytes);
  if (bytes[0] === 0x89 && bytes[1] === 0x50) return decodePng(bytes, file.name);
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return decodeJpeg(bytes, file.name);
  throw new Refusal({
    code: "not-a-picture",
    field: file.name,
    received: "bytes of neither",
    expected: "a PNG or JPEG picture",
  });
}

async function decodeJpeg(bytes: Uint8Array<ArrayBuffer>, name: string): Promise<Frame> {
  const refuse = (received: string): Refusal =>
    new Refusal({ code: "bad-jpeg", field: name, received, expected: "a whole JPEG picture" });
  let bitmap: ImageBitmap;
  try {
    // Samples as they are stored: no turning, no colour management.
    bitmap = await createImageBitmap(new Blob([bytes], { type: "image/jpeg" }), {
      colorSpaceConversion: "none",
      imageOrientation: "none",
      premultiplyAlpha: "none",
    } as ImageBitmapOptions);
  } catch {
    throw refuse("one that cannot be decoded");
  }
  const { width, height } = bitmap;
  if (width * height > LARGEST_PIXELS)
    throw refuse(`${width} × ${height} pixels, more than ${LARGEST_PIXELS / 1e6} million`);
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (context === null) throw new Error("the browser gave no canvas to decode with");
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  const rgba = context.getImageData(0, 0, width, height).data;
  const samples = new Uint8Array(width * height * 3);
  let grey = true;
  for (let p = 0, q = 0; p < rgba.length; p += 4, q += 3) {
    samples[q] = rgba[p]!;
    samples[q + 1] = rgba[p + 1]!;
    samples[q + 2] = rgba[p + 2]!;
    if (rgba[p] !== rgba[p + 1] || rgba[p] !== rgba[p + 2]) grey = false;
  }
  if (!grey) return { columns: width, rows: height, channels: 3, depth: 8, samples };
  return {
    columns: width,
    rows: height,
    channels: 1,
    depth: 8,
    samples: samples.filter((_, i) => i % 3 === 0),
  };
}
