/** Dropped files as frames: PNG kept to its last bit by the core, JPEG through the browser. */
import { decodePng, type Frame, LARGEST_PIXELS } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";

/** @param name of the file, for a refusal */
export async function decodePhoto(bytes: Uint8Array<ArrayBuffer>, name: string): Promise<Frame> {
  if (bytes[0] === 0x89 && bytes[1] === 0x50) return decodePng(bytes, name);
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return decodeJpeg(bytes, name);
  throw new Refusal({
    code: "not-a-picture",
    field: name,
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
  return frameOfImage(bitmap);
}

/** What a canvas makes of an image: 8 bits, one channel where all three agree everywhere. Closes the image. */
export function frameOfImage(image: ImageBitmap | VideoFrame): Frame {
  const [width, height] =
    "displayWidth" in image ? [image.displayWidth, image.displayHeight] : [image.width, image.height];
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (context === null) throw new Error("the browser gave no canvas to decode with");
  context.drawImage(image, 0, 0);
  image.close();
  const rgba = context.getImageData(0, 0, width, height).data;
  const count = width * height;
  let grey = true;
  for (let p = 0; p < rgba.length && grey; p += 4) grey = rgba[p] === rgba[p + 1] && rgba[p] === rgba[p + 2];
  const channels = grey ? 1 : 3;
  const samples = new Uint8Array(count * channels);
  if (grey) for (let p = 0; p < count; p++) samples[p] = rgba[4 * p];
  else
    for (let p = 0, q = 0; p < rgba.length; p += 4, q += 3) {
      samples[q] = rgba[p];
      samples[q + 1] = rgba[p + 1];
      samples[q + 2] = rgba[p + 2];
    }
  return { columns: width, rows: height, channels, depth: 8, samples };
}
