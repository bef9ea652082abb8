/** What a person sets a camera up by: how the bright line lies, how bright it is and how sharp its edge. */
import type { Frame } from "../picture/api.ts";
import { lookAt, type SeenFrame } from "./background.ts";
import { type Band, findBand } from "./band-search.ts";
import type { LightFrame } from "./frame-light.ts";

export interface LineMeter {
  /** angle of the line on the picture, rad, positive when the right end is raised */
  readonly slope: number;
  /** row of its middle, pixels from the top */
  readonly row: number;
  /** its light in the middle, share of full scale, background taken off */
  readonly light: number;
  /** standard deviation of the blur at its edge, pixels: from a tenth to nine tenths of the light is 2.563 of them (Gaussian edge) */
  readonly edge: number;
}

/** Rows on either side of the line that its profile is taken over, in heights of the line. */
const PROFILE = 2;
/** Parts of a pixel in the profile: a line that slopes a little samples its own edge finely. */
const FINE = 4;
/** 10 % to 90 % of a Gaussian edge, standard deviations: 2·Φ⁻¹(0.9). */
const TEN_TO_NINETY = 2.5631;

/**
 * Slope, light and sharpness of the nearly level line of a frame, cold or hot; null where there is none.
 * Slope to 0.1 mrad on a clean line of 640 columns; edge to 0.12 pixels between half a pixel and a fifth of
 * the line's height, too small where blur eats the line's own height (line-meter.test.ts).
 * @param gamma sample = light^(1/gamma)
 * @param seen `lookAt(frame, gamma)`, where it has been worked out already
 */
export function meterLine(
  frame: Frame,
  gamma: number,
  { light, background }: SeenFrame = lookAt(frame, gamma),
): LineMeter | null {
  const rough = background.litShare > 2e-4 && background.litShare < 0.6 ? findBand(light, background) : null;
  if (rough === null || rough.share < 0.3 || rough.height > 0.3 * frame.rows) return null;
  const band = straightened(light, rough, background.level);
  const profile = profileAcross(light, band, background.level);
  if (profile === null) return null;
  const top = [...profile].sort((a, b) => a - b)[Math.floor(0.97 * (profile.length - 1))];
  return { slope: -Math.atan(band.slope), row: band.row, light: top, edge: edgeOf(profile, top) };
}

/** The band's line again, through the centres of light of its own columns: the search looks at blocks and half heights only. */
function straightened(frame: LightFrame, band: Band, level: number): Band {
  const { columns, rows, light } = frame;
  const reach = 1.5 * band.height + 4;
  let [n, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  for (let c = 0; c < columns; c++) {
    const x = c + 0.5 - columns / 2;
    const middle = band.row + band.slope * x;
    const at = Math.floor(middle);
    if (at < 0 || at >= rows || light[at * columns + c] - level < 0.7 * band.peak) continue;
    const from = Math.max(0, Math.round(middle - reach));
    const to = Math.min(rows, Math.round(middle + reach));
    let sum = 0;
    let moment = 0;
    for (let r = from; r < to; r++) {
      const value = light[r * columns + c] - level;
      sum += value;
      moment += value * (r + 0.5);
    }
    const y = moment / sum;
    if (!(sum > 0) || Math.abs(y - middle) > band.height / 2 + 1) continue;
    n += 1;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const spread = n * sxx - sx * sx;
  if (n < 8 || spread <= 0) return band;
  const slope = (n * sxy - sx * sy) / spread;
  return { ...band, slope, row: (sy - slope * sx) / n };
}

/** Mean light against the distance from the line, FINE values a row, from the columns that lie on the line. */
function profileAcross(frame: LightFrame, band: Band, level: number): Float64Array | null {
  const { columns, rows, light } = frame;
  const reach = Math.ceil(PROFILE * band.height) + 4;
  const sums = new Float64Array(2 * reach * FINE);
  const counts = new Float64Array(2 * reach * FINE);
  for (let c = 0; c < columns; c++) {
    const middle = band.row + band.slope * (c + 0.5 - columns / 2);
    const from = Math.max(0, Math.ceil(middle - reach));
    const to = Math.min(rows - 1, Math.floor(middle + reach) - 1);
    // Where the curve bends away or is dark the column tells of the vapour, not of the focus.
    const at = Math.floor(middle);
    if (at < 0 || at >= rows || light[at * columns + c] - level < 0.7 * band.peak) continue;
    for (let r = from; r <= to; r++) {
      const slot = Math.floor((r + 0.5 - middle + reach) * FINE);
      if (slot < 0 || slot >= sums.length) continue;
      sums[slot] += light[r * columns + c] - level;
      counts[slot] += 1;
    }
  }
  const known = counts.reduce((sum, n) => sum + (n > 0 ? 1 : 0), 0);
  if (known < 4) return null;
  const profile = new Float64Array(sums.length);
  let last = 0;
  for (let i = 0; i < sums.length; i++) {
    if (counts[i] > 0) last = sums[i] / counts[i];
    profile[i] = last;
  }
  return profile;
}

/** The steeper of both edges, from a tenth to nine tenths; a pixel's own width is taken off. */
function edgeOf(profile: Float64Array, top: number): number {
  let peak = 0;
  for (let i = 1; i < profile.length; i++) if (profile[i] > profile[peak]) peak = i;
  const crossing = (step: number, level: number): number => {
    let i = peak;
    while (i > 0 && i < profile.length - 1 && profile[i] > level) i += step;
    const inner = i - step;
    const span = profile[inner] - profile[i];
    return span > 0 ? inner + (step * (profile[inner] - level)) / span : i;
  };
  const width = Math.min(
    Math.abs(crossing(-1, 0.9 * top) - crossing(-1, 0.1 * top)),
    Math.abs(crossing(1, 0.9 * top) - crossing(1, 0.1 * top)),
  );
  const sigma = width / FINE / TEN_TO_NINETY;
  return Math.sqrt(Math.max(0, sigma ** 2 - 1 / 12));
}
