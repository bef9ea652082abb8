/**
 * Light values of a decoded frame: gamma undone, colour folded to grey, dark frame taken off.
 * What a file says is never trusted: sizes and sample counts are checked here, once.
 */
import type { Frame } from "../picture/api.ts";
import { Refusal } from "../quantity/refusal.ts";

/** Light as a share of full scale, row-major (index = row · columns + column). */
export interface LightFrame {
  readonly columns: number;
  readonly rows: number;
  readonly light: Float64Array;
  /** 1 where the sample or a neighbour is at or next to full scale, so that the light is unknown */
  readonly saturated: Uint8Array;
  /** light from which on a sample counts as saturated; infinite for colour, whose channels saturate one by one */
  readonly ceiling: number;
  /** number of saturated pixels */
  readonly saturatedCount: number;
  /** share of the samples that are stored as exactly zero; 0 where a dark frame was taken off, after which zero is no edge any more */
  readonly zeroShare: number;
  /** light of one count of the file at the picture's middle sample: nothing finer is stored */
  readonly count: number;
  /** the same where all counts are alike and whole: one channel, without gamma, no dark frame taken off; 0 elsewhere */
  readonly step: number;
}

const SMALLEST_SIDE = 40;
const LARGEST_PIXELS = 60e6;

/**
 * @param gamma sample = light^(1/gamma); 1 for linear frames
 * @param field name for refusals, e.g. "hot"
 * @throws Refusal for empty, tiny, huge or truncated frames
 */
export function lightOf(frame: Frame, gamma: number, field: string, dark?: Frame): LightFrame {
  checkFrame(frame, field);
  const { columns, rows, channels } = frame;
  const count = columns * rows;
  const table = gammaTable(frame.depth, gamma);
  const full = frame.depth === 8 ? 255 : 65535;
  const ceiling = Math.floor(full * 0.996);
  const light = new Float64Array(count);
  const saturated = new Uint8Array(count);
  const samples = frame.samples;
  let saturatedCount = 0;
  let zeros = 0;
  let step: number;
  if (channels === 1) {
    for (let i = 0; i < count; i++) {
      const sample = samples[i];
      light[i] = table[sample];
      if (sample === 0) zeros++;
      if (sample < ceiling) continue;
      saturated[i] = 1;
      saturatedCount++;
    }
    step = stepAt(middleSample(samples, 0, 1), table);
  } else {
    const shares = channelShares(frame, table);
    const [red, green, blue] = shares;
    step = shares.reduce((sum, share, k) => sum + share * stepAt(middleSample(samples, k, 3), table), 0);
    for (let i = 0; i < count; i++) {
      const r = samples[3 * i];
      const g = samples[3 * i + 1];
      const b = samples[3 * i + 2];
      light[i] = red * table[r] + green * table[g] + blue * table[b];
      if (light[i] === 0) zeros++;
      if (r < ceiling && g < ceiling && b < ceiling) continue;
      saturated[i] = 1;
      saturatedCount++;
    }
  }
  if (saturatedCount > 0) widen(saturated, columns, rows);
  if (dark) {
    sameSize(frame, dark, "dark", field);
    const below = lightOf(dark, gamma, "dark").light;
    for (let i = 0; i < count; i++) light[i] -= below[i];
  }
  if (frame.step !== undefined) step = Math.max(step, frame.step * table[1]);
  return {
    columns,
    rows,
    light,
    saturated,
    ceiling: channels === 1 ? table[ceiling] : Number.POSITIVE_INFINITY,
    saturatedCount,
    zeroShare: dark === undefined ? zeros / count : 0,
    count: step,
    step: channels === 1 && gamma === 1 && dark === undefined && frame.step === undefined ? 1 / full : 0,
  };
}

/** Median of one channel, from some ten thousand pixels: in a picture of a line, a sample of the dark. */
function middleSample(samples: Frame["samples"], channel: number, channels: number): number {
  const every = Math.max(1, Math.floor(samples.length / channels / 10_000)) | 1;
  const some: number[] = [];
  for (let i = channel; i < samples.length; i += channels * every) some.push(samples[i]);
  some.sort((a, b) => a - b);
  return some[some.length >> 1];
}

function stepAt(sample: number, table: Float64Array): number {
  const upper = Math.min(sample + 1, table.length - 1);
  return table[upper] - table[upper - 1];
}

/** Charge spills over and a JPEG rings beside what is saturated: the eight neighbours are not believed either. */
function widen(saturated: Uint8Array, columns: number, rows: number): void {
  const source = saturated.slice();
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      if (source[r * columns + c] === 0) continue;
      for (let y = Math.max(0, r - 1); y <= Math.min(rows - 1, r + 1); y++)
        saturated.fill(1, y * columns + Math.max(0, c - 1), y * columns + Math.min(columns, c + 2));
    }
}

/** @throws Refusal when the second frame is not of the first frame's size */
export function sameSize(first: Frame, second: Frame, secondField: string, firstField: string): void {
  if (first.columns === second.columns && first.rows === second.rows) return;
  throw new Refusal({
    code: "frame-size",
    field: secondField,
    received: `${second.columns} × ${second.rows} pixels`,
    expected: `the size of the ${firstField} picture, ${first.columns} × ${first.rows} pixels`,
  });
}

function checkFrame(frame: Frame, field: string): void {
  const { columns, rows, channels, samples } = frame;
  const size = `${columns} × ${rows} pixels`;
  if (columns * rows > LARGEST_PIXELS)
    throw new Refusal({
      code: "frame-too-large",
      field,
      received: size,
      expected: `at most ${LARGEST_PIXELS / 1e6} million pixels`,
    });
  if (!(columns >= SMALLEST_SIDE && rows >= SMALLEST_SIDE))
    throw new Refusal({
      code: "frame-too-small",
      field,
      received: size,
      expected: `a picture of at least ${SMALLEST_SIDE} × ${SMALLEST_SIDE} pixels`,
    });
  if (samples.length !== columns * rows * channels)
    throw new Refusal({
      code: "frame-truncated",
      field,
      received: `${samples.length} samples`,
      expected: `${columns * rows * channels} samples for ${size} of ${channels} channel${channels > 1 ? "s" : ""}`,
    });
}

function gammaTable(depth: 8 | 16, gamma: number): Float64Array {
  const full = depth === 8 ? 255 : 65535;
  const table = new Float64Array(full + 1);
  for (let i = 0; i <= full; i++) table[i] = gamma === 1 ? i / full : (i / full) ** gamma;
  return table;
}

/**
 * Weights of the three colours: proportional to the light each holds above its darkest tenth, the best simple weighting
 * where shot noise rules; a colour without light (red pixels under blue light) then adds no noise.
 */
function channelShares(frame: Frame, table: Float64Array): [number, number, number] {
  const count = frame.columns * frame.rows;
  const sums = [0, 1, 2].map((channel) => {
    let sum = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i += 7) {
      const value = table[frame.samples[3 * i + channel]];
      sum += value;
      least = Math.min(least, value);
    }
    return Math.max(sum - least * Math.ceil(count / 7), 0);
  });
  const total = sums[0] + sums[1] + sums[2];
  return total > 0 ? [sums[0] / total, sums[1] / total, sums[2] / total] : [1 / 3, 1 / 3, 1 / 3];
}
