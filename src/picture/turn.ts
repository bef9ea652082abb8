/** Frames turned and mirrored: as a camera was held, or as a person says. */
import type { Frame } from "./api.ts";

/** How a stored frame must be turned to stand upright. */
export const TURNS = ["none", "left", "right", "over", "mirror", "flip"] as const;

/**
 * "left" and "right": a quarter turn against and with the clock; "over": half a turn; "mirror": left for right; "flip": top for bottom.
 */
export type Turn = (typeof TURNS)[number];

/** Exif's Orientation 1…8 as turns, one after the other (CIPA DC-008, from memory). */
const BY_EXIF: readonly (readonly Turn[])[] = [
  [],
  [],
  ["mirror"],
  ["over"],
  ["flip"],
  ["mirror", "left"],
  ["right"],
  ["mirror", "right"],
  ["left"],
];

export function turned(frame: Frame, turn: Turn): Frame {
  const { columns, rows, channels, samples } = frame;
  if (turn === "none") return frame;
  const quarter = turn === "left" || turn === "right";
  const [width, height] = quarter ? [rows, columns] : [columns, rows];
  const out = frame.depth === 8 ? new Uint8Array(samples.length) : new Uint16Array(samples.length);
  for (let r = 0, to = 0; r < height; r++)
    for (let c = 0; c < width; c++) {
      let [row, column] = [r, c];
      if (turn === "left") [row, column] = [c, columns - 1 - r];
      else if (turn === "right") [row, column] = [rows - 1 - c, r];
      else {
        if (turn !== "mirror") row = rows - 1 - r;
        if (turn !== "flip") column = columns - 1 - c;
      }
      const from = (row * columns + column) * channels;
      for (let k = 0; k < channels; k++) out[to++] = samples[from + k];
    }
  return { ...frame, columns: width, rows: height, samples: out };
}

/** A frame put upright as its file says. @param orientation Exif's 1…8; anything else changes nothing */
export function uprighted(frame: Frame, orientation: number): Frame {
  return (BY_EXIF[orientation] ?? []).reduce(turned, frame);
}

/** A part of a frame. @param region columns and rows from the first to the one after the last */
export function cropped(
  frame: Frame,
  region: { readonly columns: readonly [number, number]; readonly rows: readonly [number, number] },
): Frame {
  const [left, right] = region.columns;
  const [top, bottom] = region.rows;
  const width = right - left;
  const height = bottom - top;
  const { channels } = frame;
  const out =
    frame.depth === 8
      ? new Uint8Array(width * height * channels)
      : new Uint16Array(width * height * channels);
  for (let r = 0; r < height; r++) {
    const from = ((top + r) * frame.columns + left) * channels;
    out.set(frame.samples.subarray(from, from + width * channels), r * width * channels);
  }
  return { ...frame, columns: width, rows: height, samples: out };
}
