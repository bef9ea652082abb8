/** What a good day scatters by, and the signs counted in it. */

/**
 * Scatter of a good day: temperatures of a few kelvin move density and gradient alike by 12 %, gas and layering their ratio by 6 %;
 * adjusting leaves a milliradian, a slit 8 %, focus 12 %, a lamp's brightness 3 %, the middle of the picture 2 % of its width.
 * Common practice, no source.
 */
export const GOOD_DAY = {
  /** ln of measured over foretold, density and gradient alike */
  columns: 0.12,
  /** ln of density's over gradient's share of the forecast */
  apart: 0.06,
  /** rad */
  angle: 1.2e-3,
  slit: 0.08,
  plumbSlit: 0.12,
  blur: 0.12,
  /** share of lit pixels */
  saturated: 0.002,
  loss: 0.03,
  /** from place to place, share of the light */
  stripes: 0.01,
  /** share of full scale */
  stray: 0.004,
  /** pixels */
  drift: 0.6,
  /** ln of the strength ratio over the published one */
  ratio: 0.03,
  /** share of the picture's width */
  place: 0.02,
  /** ln of the pair's distance over the foretold one */
  separation: 0.01,
  /** m, on the lamp's scale */
  lampPlace: 1.5e-11,
  /** from frame to frame: light, pixels, share of the gradient */
  flicker: 0.03,
  sway: 0.25,
  shimmer: 0.03,
} as const;

/**
 * Signed differences between picture and forecast, each in standard deviations of a good day; 0 where nothing can be said.
 * What has no scale of that kind is a flag.
 */
export interface Signs {
  /** gradient and density alike, and density beyond gradient */
  readonly columns: number;
  readonly apart: number;
  /** dense vapour on the other side than foretold */
  readonly inverted: boolean;
  readonly mirrored: boolean;
  /** one line, or two alike, and no lamp: upside down and mirrored look the same */
  readonly handsAlike: boolean;
  /** slope of the undeflected line against the setup's */
  readonly tilt: number;
  /** lean of the spectral lines against the setup's camera roll; null without lamp */
  readonly lean: number | null;
  readonly slitHeight: number;
  /** null without lamp */
  readonly slitWidth: number | null;
  readonly blur: number;
  readonly saturated: number;
  /** light lost between cold and hot picture, and unevenly so */
  readonly loss: number;
  readonly stripes: number;
  readonly stray: number;
  /** shift of all wavelengths since the cold frame, beyond the gas's own */
  readonly drift: number;
  readonly ratio: number;
  readonly place: number;
  readonly separation: number;
  readonly lampPlace: number;
  /** middle of a gap that bends the light and is none of the setup's lines, share of the picture's width from its left edge; null without one */
  readonly foreign: number | null;
  /** a lamp frame none of whose lines are the named ones */
  readonly lampUnknown: boolean;
  /** a level line without any dark gap */
  readonly noGap: boolean;
  /** a lamp says that the element's lines are in view */
  readonly linesSure: boolean;
  /** from frame to frame; null with fewer than three frames */
  readonly frames: { readonly flicker: number; readonly sway: number; readonly shimmer: number } | null;
}

export const SILENT: Signs = {
  columns: 0,
  apart: 0,
  inverted: false,
  mirrored: false,
  handsAlike: false,
  tilt: 0,
  lean: null,
  slitHeight: 0,
  slitWidth: null,
  blur: 0,
  saturated: 0,
  loss: 0,
  stripes: 0,
  stray: 0,
  drift: 0,
  ratio: 0,
  place: 0,
  separation: 0,
  lampPlace: 0,
  foreign: null,
  lampUnknown: false,
  noGap: false,
  linesSure: false,
  frames: null,
};
