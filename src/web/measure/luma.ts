/** The brightness of a film's frame as it is stored, no colours in between. */
import type { Frame } from "../../picture/index.ts";
import { frameOfImage } from "./decode.ts";

/** Layouts whose first plane is brightness, one byte a pixel. */
const PLANAR = new Set(["I420", "I420A", "I422", "I444", "NV12"]);

/**
 * Films store brightness from 16 to 235 unless they say otherwise; that is spread over 0 … 255, as a grey picture has it.
 * Other layouts go through a canvas. Closes the picture.
 */
export async function lumaFrame(picture: VideoFrame): Promise<Frame> {
  if (picture.format === null || !PLANAR.has(picture.format)) return frameOfImage(picture);
  const { codedWidth, codedHeight, colorSpace } = picture;
  const whole = { x: 0, y: 0, width: codedWidth, height: codedHeight };
  const rect = picture.visibleRect ?? whole;
  const bytes = new Uint8Array(picture.allocationSize({ rect }));
  const [plane] = await picture.copyTo(bytes, { rect });
  const full = colorSpace.fullRange === true;
  picture.close();
  const [columns, rows] = [rect.width, rect.height];
  const samples = new Uint8Array(columns * rows);
  const spread = spreadTable(full);
  const { offset, stride } = plane ?? { offset: 0, stride: columns };
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) samples[r * columns + c] = spread[bytes[offset + r * stride + c]];
  return { columns, rows, channels: 1, depth: 8, samples };
}

/** Film brightness → grey of 0 … 255, by the table that both kinds of range need. ITU-R BT.601: black 16, white 235. */
export function spreadTable(full: boolean): Uint8Array {
  return Uint8Array.from({ length: 256 }, (_, y) =>
    full ? y : Math.round(Math.min(255, Math.max(0, ((y - 16) * 255) / 219))),
  );
}
