/** The mean of the newest frames, kept up as they come: a long average costs no more per frame than a short one. */
import type { Frame } from "../../picture/index.ts";

export interface RunningMean {
  /**
   * @param most frames to average, counting this one; ≥ 1
   * @returns the mean: the frame itself where it is alone, else 16 bits deep (8-bit samples times 257, so that full scale stays full scale)
   */
  add(frame: Frame, most: number): Frame;
  /** frames in the mean */
  count(): number;
}

/** Frames of another size or number of channels begin a new mean. */
export function createRunningMean(): RunningMean {
  let frames: Frame[] = [];
  // Sums of whole numbers far below 2⁵³: taking the oldest frame off again leaves no trace of it.
  let sums = new Float64Array(0);
  const tally = ({ samples }: Frame, sign: 1 | -1): void => {
    for (let i = 0; i < samples.length; i++) sums[i] += sign * samples[i];
  };
  return {
    add(frame, most) {
      const last = frames.at(-1);
      if (
        last === undefined ||
        last.columns !== frame.columns ||
        last.rows !== frame.rows ||
        last.channels !== frame.channels ||
        last.depth !== frame.depth
      ) {
        frames = [];
        sums = new Float64Array(frame.samples.length);
      }
      frames.push(frame);
      tally(frame, 1);
      while (frames.length > Math.max(1, most)) tally(frames.shift() as Frame, -1);
      if (frames.length === 1) return frame;
      const factor = (frame.depth === 8 ? 257 : 1) / frames.length;
      const samples = new Uint16Array(sums.length);
      for (let i = 0; i < samples.length; i++) samples[i] = Math.round(sums[i] * factor);
      return { ...frame, depth: 16, samples };
    },
    count: () => frames.length,
  };
}
