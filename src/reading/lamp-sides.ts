/**
 * Which way round the colours run, told by the lamp: a single line of vapour bends alike from both sides, and a handful of
 * lamp lines with a free scale fits nearly any handful of wavelengths. So both ways are weighed by what they ask for.
 */
import type { LampFrame } from "./lamp-frame.ts";
import { type LampScale, lampScale, polynomial, type ScalePrior } from "./wavelength-scale.ts";

/** −2 ln of the likelihood of the lamp's lines, as stored and mirrored; infinite where they fit none of the named ones. */
export interface LampSides {
  readonly stored: number;
  readonly mirrored: number;
}

/** From this difference on one way is 150 times likelier than the other. */
const CLEAR = 10;
/** Published wavelengths, uneven lines and a lamp not quite in the slit's middle, pixels: common practice, no source. */
const PLACE = 0.02;
/** One lamp line that is none of the named ones: lamps hold such, but seldom. */
const STRANGER = 9;
/** One line's place on the lamp's scale against its own wavelength, pixels: the camera may have moved in between. */
const MOVED = 1.5;
/** Dispersion against the setup's, share; and the bend of the scale beyond the setup's, share of half the picture. */
const STRETCH = 0.05;
const BEND = 0.01;

/**
 * The lamp's lines fitted as stored and mirrored.
 * @param stored what is expected of the scale in the picture as stored
 * @param turned the same in the mirrored picture
 * @param wavelength of the vapour's line, vacuum, m
 * @param at its place in the picture as stored, pixels from the middle
 */
export function lampSides(
  lamp: LampFrame,
  lines: readonly number[],
  stored: ScalePrior,
  turned: ScalePrior,
  { wavelength, at }: { readonly wavelength: number; readonly at: number },
): LampSides {
  const misfit = (frame: LampFrame, prior: ScalePrior, place: number): number => {
    const scale = lampScale(frame, lines, prior);
    return scale === null
      ? Number.POSITIVE_INFINITY
      : lampMisfit(scale, prior, frame.geometry.columns / 2, { wavelength, at: place });
  };
  return { stored: misfit(lamp, stored, at), mirrored: misfit(mirroredLamp(lamp), turned, -at) };
}

/** True where the lamp says that the picture is stored mirrored. */
export function lampSaysMirrored({ stored, mirrored }: LampSides): boolean {
  return stored - mirrored > CLEAR;
}

/** True where the lamp fits both ways about as well. */
export function lampCannotTell({ stored, mirrored }: LampSides): boolean {
  return !(Math.abs(stored - mirrored) > CLEAR);
}

function lampMisfit(
  { coefficients, features }: LampScale,
  prior: ScalePrior,
  reach: number,
  line: { readonly wavelength: number; readonly at: number },
): number {
  const perPixel = Math.abs(prior.dispersion);
  const at = (u: number): number => polynomial(coefficients, u / 1000);
  let sum = 0;
  for (const { wavelengths, residual, standardUncertainty, atEdge } of features) {
    if (wavelengths.length === 0) sum += STRANGER;
    else if (!atEdge) sum += (residual / perPixel / Math.hypot(standardUncertainty, PLACE)) ** 2;
  }
  const beyond = (u: number): number => (at(u) - prior.wavelength(u)) / perPixel;
  const bend = (beyond(reach) + beyond(-reach)) / 2 - beyond(0);
  const stretch = (beyond(reach) - beyond(-reach)) / (2 * reach);
  const moved = (at(line.at) - line.wavelength) / perPixel;
  return sum + (bend / (BEND * reach)) ** 2 + (stretch / STRETCH) ** 2 + (moved / MOVED) ** 2;
}

function mirroredLamp(lamp: LampFrame): LampFrame {
  const { spectrum, peaks, geometry } = lamp;
  return {
    ...lamp,
    geometry: { ...geometry, roll: -geometry.roll, smile: -geometry.smile },
    peaks: peaks.map((peak) => ({ ...peak, along: -peak.along })).reverse(),
    spectrum: {
      along: spectrum.along.map((u) => -u).reverse(),
      light: spectrum.light.slice().reverse(),
      sigma: spectrum.sigma.slice().reverse(),
    },
  };
}
