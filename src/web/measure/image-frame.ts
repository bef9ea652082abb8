/** A picture of the browser's own as a frame. */
import type { Frame } from "../../picture/index.ts";

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
