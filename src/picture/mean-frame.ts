import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";

/**
 * Mean of several frames of one size and depth: n frames of the same scene have √n less noise.
 * @returns 16 bits where more than one was given (8-bit samples times 257, so that full scale stays full scale); the one frame itself otherwise
 * @throws Refusal where sizes, depths or channels differ; an ordinary Error for an empty list
 */
export function meanFrame(frames: readonly Frame[], field: string): Frame {
  const [first, ...others] = frames;
  if (first === undefined) throw new Error("a mean of no frames");
  if (others.length === 0) return first;
  const sum = new Float64Array(first.samples.length);
  for (const frame of frames) {
    if (
      frame.columns !== first.columns ||
      frame.rows !== first.rows ||
      frame.channels !== first.channels ||
      frame.depth !== first.depth
    )
      throw new Refusal({
        code: "frame-size",
        field,
        received: `${frame.columns} × ${frame.rows} pixels of ${frame.channels} × ${frame.depth} bits`,
        expected: `frames all like the first, ${first.columns} × ${first.rows} pixels of ${first.channels} × ${first.depth} bits`,
      });
    const { samples } = frame;
    for (let i = 0; i < sum.length; i++) sum[i] += samples[i];
  }
  const factor = (first.depth === 8 ? 257 : 1) / frames.length;
  return { ...first, depth: 16, samples: Uint16Array.from(sum, (value) => Math.round(value * factor)) };
}
