/** Grey frames as an uncompressed film of the kind that a browser takes for its fake camera. */
import type { Frame } from "../../src/picture/index.ts";

/**
 * YUV4MPEG2, 4:2:0, without colour. Brightness is stored from 16 to 235, as browsers expect of it (ITU-R BT.601).
 * @param frames 8 bits, one channel, all of one size with even sides
 */
export function writeY4m(frames: readonly Frame[], perSecond: number): Buffer {
  const [first] = frames;
  if (first === undefined) throw new Error("a film of no frames");
  const { columns, rows } = first;
  const parts: Uint8Array[] = [
    Buffer.from(`YUV4MPEG2 W${columns} H${rows} F${perSecond}:1 Ip A1:1 C420jpeg\n`),
  ];
  const colourless = new Uint8Array((columns * rows) / 2).fill(128);
  for (const { samples } of frames) {
    parts.push(
      Buffer.from("FRAME\n"),
      Uint8Array.from(samples, (value) => Math.round(16 + (219 * value) / 255)),
      colourless,
    );
  }
  return Buffer.concat(parts);
}
