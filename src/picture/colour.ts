/** Colours of spectral light on a screen: CIE 1931 to linear sRGB, and a stated false colour where the eye sees nothing. */
import { pow } from "../numerics/elementary/index.ts";
import { cie1931 } from "../reference/cie.ts";

/** Shortest and longest vacuum wavelength drawn in their own colour, m; beyond, the false colour has taken over. */
export const VISIBLE = { shortest: 385e-9, longest: 740e-9 } as const;
/** From here on outward the false colour is mixed in, m. */
const FADE = { short: 400e-9, long: 700e-9 } as const;
/** Linear sRGB of what the eye does not see: pale violet below, pale rose above. */
const ULTRAVIOLET = [0.55, 0.4, 0.9] as const;
const INFRARED = [1, 0.42, 0.5] as const;

/** What has to be said wherever a picture with false colour is shown. */
export const FALSE_COLOUR_NOTE =
  "Beyond 400–700 nm the colour shown turns false (pale violet below, pale rose above): the eye sees next to nothing there.";

/** Chromaticities of the sRGB primaries and of its white (IEC 61966-2-1). */
const PRIMARIES = [
  [0.64, 0.33],
  [0.3, 0.6],
  [0.15, 0.06],
] as const;
const WHITE = [0.3127, 0.329] as const;

/** Least luminance of a colour in a camera's picture, white = 1. */
const DIMMEST = 0.2;
/** White mixed into the colour of a pixel that is full. */
export const WHITE_IN_FULL = 0.06;

type Triple = [number, number, number];

/** CIE 1931 2° tristimulus values of light of one vacuum wavelength in m, unit spectral power; zero beyond 380–780 nm. */
export function tristimulus(wavelength: number): Triple {
  const { wavelengths, x, y, z } = OBSERVER;
  const at = (wavelength - wavelengths[0]) / (wavelengths[1] - wavelengths[0]);
  const i = Math.floor(at);
  if (!(at >= 0 && i + 1 < wavelengths.length)) return [0, 0, 0];
  const t = at - i;
  return [x[i] * (1 - t) + x[i + 1] * t, y[i] * (1 - t) + y[i + 1] * t, z[i] * (1 - t) + z[i + 1] * t];
}

/** Linear sRGB of tristimulus values (1 = white of luminance 1), not clipped. */
export function linearRgb(xyz: readonly [number, number, number]): Triple {
  return apply(FROM_XYZ, xyz);
}

/**
 * Hue of spectral light as linear sRGB with its largest part 1. Spectral colours lie outside what a screen can show: white is mixed in until
 * no part is negative.
 */
export function spectralHue(wavelength: number): Triple {
  const inside = Math.min(FADE.long, Math.max(FADE.short, wavelength));
  const rgb = linearRgb(tristimulus(inside));
  const least = Math.min(0, ...rgb);
  const lifted = rgb.map((v) => v - least);
  const most = Math.max(...lifted);
  const own = lifted.map((v) => v / most);
  const share = falseShare(wavelength);
  const tint = wavelength < FADE.short ? ULTRAVIOLET : INFRARED;
  return [0, 1, 2].map((c) => own[c] * (1 - share) + tint[c] * share) as Triple;
}

/**
 * Colour in which a camera's picture is drawn: the hue, with as much white as lifts its luminance to DIMMEST, since a screen's blue and
 * violet are nearly as dark as the background. White leaves the hue as it is and makes it paler; light that fills a pixel is mixed with
 * WHITE_IN_FULL more of it, in step with the light. Common practice, no source: a matter of taste, stated so that nobody reads purity from it.
 */
export function cameraColour(wavelength: number): Triple {
  const hue = spectralHue(wavelength);
  const luminance = hue[0] * LUMINANCE[0] + hue[1] * LUMINANCE[1] + hue[2] * LUMINANCE[2];
  const white = Math.max(0, (DIMMEST - luminance) / (1 - luminance));
  return hue.map((part) => part + white * (1 - part)) as Triple;
}

/** How far the colour shown is false, 0…1. */
export function falseShare(wavelength: number): number {
  const below = (FADE.short - wavelength) / (FADE.short - VISIBLE.shortest);
  const above = (wavelength - FADE.long) / (VISIBLE.longest - FADE.long);
  return Math.min(1, Math.max(0, below, above));
}

/** sRGB's own curve: linear 0…1 to the value on the screen 0…1 (IEC 61966-2-1). */
export function screenValue(linear: number): number {
  if (linear <= 0) return 0;
  if (linear >= 1) return 1;
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * pow(linear, 1 / 2.4) - 0.055;
}

const OBSERVER = cie1931();
const TO_XYZ = toXyz();
const FROM_XYZ = invert(TO_XYZ);
/** Luminance of each primary of sRGB, together 1. */
const LUMINANCE = TO_XYZ[1];

/** Rows of the matrix from linear sRGB to XYZ, from primaries and white. */
function toXyz(): Triple[] {
  const columns = PRIMARIES.map(([x, y]): Triple => [x / y, 1, (1 - x - y) / y]);
  const white: Triple = [WHITE[0] / WHITE[1], 1, (1 - WHITE[0] - WHITE[1]) / WHITE[1]];
  const rows = [0, 1, 2].map((r) => columns.map((c) => c[r]) as Triple);
  const scale = apply(invert(rows), white);
  return rows.map((row) => row.map((v, c) => v * scale[c]) as Triple);
}

function apply(m: readonly Triple[], v: readonly [number, number, number]): Triple {
  return m.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]) as Triple;
}

function invert(m: readonly Triple[]): Triple[] {
  const [[a, b, c], [d, e, f], [g, h, i]] = m as [Triple, Triple, Triple];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [
    [(e * i - f * h) / det, (c * h - b * i) / det, (b * f - c * e) / det],
    [(f * g - d * i) / det, (a * i - c * g) / det, (c * d - a * f) / det],
    [(d * h - e * g) / det, (b * g - a * h) / det, (a * e - b * d) / det],
  ];
}
