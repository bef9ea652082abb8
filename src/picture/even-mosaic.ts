/** A mosaic of red, green and blue pixels as a grey picture to measure in: every pixel at its own place, its colour's sensitivity evened out. */
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";
import { filterAt } from "./demosaic.ts";

/** A colour that sees less than this share of the strongest one's light would bring in more noise than light. */
const WEAKEST = 0.25;
const NAMES = ["red", "green", "blue"] as const;

/** By what red, green and blue samples above the dark are multiplied. */
export type MosaicFactors = readonly [number, number, number];

/**
 * Factors from a picture whose light falls on all colours alike, such as any crossed-prism picture: its lines run over many squares.
 * @param frame one channel, linear, red in the upper left corner
 * @throws Refusal where a colour hardly sees the light: filled up from its neighbours it would blur a line of a few pixels
 */
export function mosaicFactors(frame: Frame, field: string): MosaicFactors {
  const { columns, samples } = frame;
  const sums = [0, 0, 0];
  const counts = [0, 0, 0];
  const dark = darkLevel(frame);
  for (let i = 0; i < samples.length; i++) {
    const colour = filterAt(Math.floor(i / columns), i % columns);
    sums[colour] += samples[i] - dark;
    counts[colour]++;
  }
  const means = sums.map((sum, k) => Math.max(sum / Math.max(counts[k], 1), 0));
  const most = Math.max(...means);
  const weak = NAMES.filter((_, k) => means[k] < WEAKEST * most);
  if (!(most > 0)) return [1, 1, 1];
  if (weak.length > 0)
    throw new Refusal({
      code: "mosaic-weak-colour",
      field,
      received: `a mosaic (camera.filter "bayer") whose ${weak.join(" and ")} pixels see less than a quarter of the light`,
      expected: "a mosaic all of whose colours see these lines, or a picture in colour",
      hint: 'develop it to a 16-bit TIFF in linear colours and set camera.filter to "none"',
    });
  return [most / means[0], most / means[1], most / means[2]];
}

/** Samples of each colour brought to the strongest one's, about the dark level; 16 bits deep, linear. Counts stay as coarse as they were, the weakest colour's the coarsest. */
export function evenMosaic(frame: Frame, factors: MosaicFactors): Frame {
  const { columns, samples, depth } = frame;
  const unit = depth === 8 ? 257 : 1;
  const dark = darkLevel(frame);
  const full = depth === 8 ? 255 : 65535;
  const even = Uint16Array.from(samples, (sample, i) => {
    // What is saturated stays so.
    if (sample >= full) return 65535;
    const factor = factors[filterAt(Math.floor(i / columns), i % columns)];
    return Math.min(65535, Math.max(0, Math.round(unit * (dark + (sample - dark) * factor))));
  });
  return { ...frame, depth: 16, gamma: 1, samples: even, step: unit * Math.max(...factors) };
}

/** Mean of what lies about the median: most of such a picture is dark. */
function darkLevel({ samples }: Frame): number {
  const some = samples.filter((_, i) => i % 7 === 0).sort();
  const middle = some[some.length >> 1];
  const spread = Math.max(2, 3 * (some[Math.floor(0.6 * some.length)] - some[Math.floor(0.4 * some.length)]));
  let sum = 0;
  let count = 0;
  for (const v of some)
    if (Math.abs(v - middle) <= spread) {
      sum += v;
      count++;
    }
  return sum / count;
}
