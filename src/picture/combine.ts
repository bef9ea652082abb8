/** Several frames of one scene made into one: the mean without what only one frame shows, the flat's unevenness taken out. */
import { pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";

/** Samples further than this many standard deviations from the middle one are left out. */
const CLIP = 4;
const BINS = 64;
const EXPOSURE = ["exposure", "sensitivity", "aperture"] as const;
const EXPOSED = { exposure: "exposure time in s", sensitivity: "ISO", aperture: "f-number" } as const;

export interface MeanFrame {
  /** 16 bits deep, so that the mean keeps what the frames did not resolve; same gamma as the frames */
  readonly frame: Frame;
  /** samples left out of all, share */
  readonly clipped: number;
}

/**
 * Mean of frames of one scene, in light (gamma undone and put back), leaving out samples more than 4 standard deviations from the
 * frames' middle value: a cosmic ray, a hand before the lens. The noise at each level of light comes from the frames themselves.
 * Clipping at 4 σ moves a clean mean by nothing measurable; with two frames nothing can be clipped.
 * @param gamma sample = light^(1/gamma), of frames that do not say so themselves
 * @throws Refusal where sizes, channels or stated exposures differ
 */
export function averageFrames(frames: readonly Frame[], gamma: number): MeanFrame {
  const [first] = frames;
  if (first === undefined)
    throw new Refusal({
      code: "no-frames",
      field: "frames",
      received: "none",
      expected: "one frame or more",
    });
  for (const [k, frame] of frames.entries()) {
    sameKind(first, frame, `frame ${k + 1}`, true);
    sameExposure(first, frame, `frame ${k + 1}`);
  }
  const own = first.gamma ?? gamma;
  if (frames.length === 1) return { frame: first, clipped: 0 };
  const light = lightTable(first.depth, own);
  const count = first.samples.length;
  const noise = frames.length > 2 ? noiseByLevel(frames, light) : null;
  const samples = new Uint16Array(count);
  const values = new Float64Array(frames.length);
  let clipped = 0;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < values.length; k++) values[k] = light[frames[k].samples[i]];
    let mean = 0;
    if (noise === null) for (const v of values) mean += v / values.length;
    else {
      values.sort();
      const middle = (values[(values.length - 1) >> 1] + values[values.length >> 1]) / 2;
      const reach = CLIP * noise[Math.min(BINS - 1, (middle * BINS) | 0)];
      let kept = 0;
      for (const v of values) {
        if (Math.abs(v - middle) > reach) continue;
        mean += v;
        kept++;
      }
      mean = kept > 0 ? mean / kept : middle;
      clipped += values.length - kept;
    }
    samples[i] = Math.round(65535 * (own === 1 ? mean : pow(mean, 1 / own)));
  }
  return {
    frame: {
      columns: first.columns,
      rows: first.rows,
      channels: first.channels,
      depth: 16,
      samples,
      ...exposureOf(first),
      ...(own === 1 && first.gamma === undefined ? {} : { gamma: own }),
    },
    clipped: clipped / (count * frames.length),
  };
}

/**
 * A frame divided by its flat (the same optics, evenly lit), which takes out dust and pixels of different sensitivity. The flat's
 * mean over its brighter half counts as 1; where it is darker than a twentieth of that nothing can be said, and nothing is changed.
 * @param dark light shut off, taken from both before
 */
export function flattened(frame: Frame, flat: Frame, gamma: number, dark?: Frame): Frame {
  sameKind(frame, flat, "flat", false);
  if (dark !== undefined) sameKind(frame, dark, "dark", false);
  const own = frame.gamma ?? gamma;
  const [light, lightOfFlat] = [lightTable(frame.depth, own), lightTable(flat.depth, flat.gamma ?? gamma)];
  const lightOfDark = dark === undefined ? null : lightTable(dark.depth, dark.gamma ?? gamma);
  const count = frame.samples.length;
  const even = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const below = dark === undefined || lightOfDark === null ? 0 : lightOfDark[dark.samples[i]];
    even[i] = lightOfFlat[flat.samples[i]] - below;
  }
  const sorted = even.slice().sort();
  const upper = sorted.subarray(count >> 1);
  const full = upper.reduce((a, b) => a + b, 0) / upper.length;
  if (!(full > 0))
    throw new Refusal({
      code: "flat-dark",
      field: "flat",
      received: "a frame without light",
      expected: "a frame of the evenly lit plumb slit or of a white wall",
    });
  const samples = new Uint16Array(count);
  for (let i = 0; i < count; i++) {
    const share = even[i] / full;
    const below = dark === undefined || lightOfDark === null ? 0 : lightOfDark[dark.samples[i]];
    const here = light[frame.samples[i]];
    const value = share > 0.05 ? below + (here - below) / share : here;
    const kept = Math.min(1, Math.max(0, value));
    samples[i] = Math.round(65535 * (own === 1 ? kept : pow(kept, 1 / own)));
  }
  const { columns, rows, channels } = frame;
  return {
    columns,
    rows,
    channels,
    depth: 16,
    samples,
    ...exposureOf(frame),
    ...(own === 1 ? {} : { gamma: own }),
  };
}

/** What a file states of its exposure. */
function exposureOf({ exposure, sensitivity, aperture }: Frame): Pick<Frame, (typeof EXPOSURE)[number]> {
  return {
    ...(exposure === undefined ? {} : { exposure }),
    ...(sensitivity === undefined ? {} : { sensitivity }),
    ...(aperture === undefined ? {} : { aperture }),
  };
}

function sameExposure(first: Frame, other: Frame, field: string): void {
  const [a, b] = [exposureOf(first), exposureOf(other)];
  for (const key of EXPOSURE) {
    const [one, two] = [a[key], b[key]];
    if (one === undefined || two === undefined || Math.abs(two / one - 1) < 0.01) continue;
    throw new Refusal({
      code: "exposures-differ",
      field,
      received: `${EXPOSED[key]} ${two}`,
      expected: `frames exposed alike to be averaged, like the first: ${EXPOSED[key]} ${one}`,
    });
  }
}

/** @param deep whether both must be of the same depth */
function sameKind(first: Frame, other: Frame, field: string, deep: boolean): void {
  const words = (f: Frame): string =>
    `${f.columns} × ${f.rows} pixels, ${f.channels === 1 ? "grey" : "colour"}, ${f.depth} bits`;
  const like =
    first.columns === other.columns && first.rows === other.rows && first.channels === other.channels;
  if (like && (first.depth === other.depth || !deep) && first.samples.length === other.samples.length) return;
  throw new Refusal({
    code: "frames-differ",
    field,
    received: words(other),
    expected: `frames of one kind, like the first: ${words(first)}`,
  });
}

function lightTable(depth: 8 | 16, gamma: number): Float64Array {
  const top = depth === 8 ? 255 : 65535;
  const table = new Float64Array(top + 1);
  for (let s = 0; s <= top; s++) table[s] = gamma === 1 ? s / top : pow(s / top, gamma);
  return table;
}

/** Standard deviation of one sample by level of light, from the middle size of differences between neighbouring frames. */
function noiseByLevel(frames: readonly Frame[], light: Float64Array): Float64Array {
  const count = frames[0].samples.length;
  const step = Math.max(1, Math.floor(count / 60_000)) | 1;
  const differences: number[][] = Array.from({ length: BINS }, () => []);
  for (let k = 0; k + 1 < frames.length; k++) {
    const [a, b] = [frames[k].samples, frames[k + 1].samples];
    for (let i = 0; i < count; i += step) {
      const [x, y] = [light[a[i]], light[b[i]]];
      differences[Math.min(BINS - 1, (((x + y) / 2) * BINS) | 0)].push(Math.abs(x - y));
    }
  }
  const noise = new Float64Array(BINS);
  for (let b = 0; b < BINS; b++) {
    const sorted = differences[b].sort((p, q) => p - q);
    // |difference| of two normal values: its median is 0.6745·√2 of one's standard deviation.
    noise[b] = sorted.length < 20 ? -1 : sorted[sorted.length >> 1] / (0.6745 * Math.SQRT2);
  }
  // Levels without samples enough borrow from the next one that has them; never finer than the steps of the file.
  const known = Array.from(noise.keys()).filter((b) => noise[b] >= 0);
  const least = light[1] - light[0];
  return noise.map((own, b) => {
    const near = known.reduce((best, k) => (Math.abs(k - b) < Math.abs(best - b) ? k : best), known[0] ?? b);
    const value = own >= 0 ? own : (noise[near] ?? 0);
    return Math.max(value, least, 1e-5);
  });
}
