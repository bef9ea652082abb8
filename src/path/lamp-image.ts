/** The lamp's image on the level slit and the condenser's cone behind it: which part of slit and beam they light. */
import { hypot } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Aside, PathInput, SourceInput } from "./api.ts";

/** Places over the lit piece of the slit in either direction. */
const PLACES = 24;
/** Heights over the beam: the share of two circles that overlap is right to 1e-3. */
const HEIGHTS = 240;
const CENTRED: Aside = { right: 0, up: 0 };

export interface LampImage {
  /** diameter of the luminous spot's image on the level slit, m; Infinity where the spot has no stated size */
  readonly diameter: number;
  /** image over lamp, 1 */
  readonly magnification: number;
  /** middle of the image on the level slit's plane, m from the axis */
  readonly middle: Aside;
  /** share of the opening's height that the image covers, 1 */
  readonly slitFilled: number;
  /** light of the piece of slit that the plumb slit looks at, relative to the spot's brightest, 1 */
  readonly brightness: number;
  /** middle of the condenser's cone in the tube, m from the middle of the beam */
  readonly coneMiddle: Aside;
  /** share of the beam that the condenser's cone fills, 1 */
  readonly beamFilled: number;
}

/**
 * A condenser in focus: image = lamp × image distance/object distance, m times, turned over; a lamp off its axis by d moves it by −m·d, a condenser off by c by
 * (1 + m)·c. The cone that a condenser of free diameter D sends through the slit is as wide in the tube as f₁·D/(its distance b), and stands f₁·c/b to the other side
 * of the beam's middle: the lamp's place does not move it, since every luminous point sends light through the whole condenser. The plumb slit looks at a piece of the
 * level slit as long as its own opening × f₁/F, on the other side of the axis. (Thin lens, any text on geometrical optics. The slits' own offsets are not counted in the cone.)
 */
export function lampImage(path: PathInput): LampImage {
  const { rail, source, levelSlit } = path;
  const magnification = rail.condenserToSlit / rail.lampToCondenser;
  const diameter = spotSize(source) * magnification;
  const middle = imageMiddle(path);
  const { at, length } = seenPiece(path);
  const profile = profileOf(source);
  let sum = 0;
  for (let i = 0; i < PLACES; i++) {
    const x = at.right + length * ((i + 0.5) / PLACES - 0.5) - middle.right;
    for (let k = 0; k < PLACES; k++) {
      const y = at.up + levelSlit * ((k + 0.5) / PLACES - 0.5) - middle.up;
      sum += profile(hypot(x, y) / magnification);
    }
  }
  let lit = 0;
  let whole = 0;
  for (let k = 0; k < HEIGHTS; k++) {
    const height = path.beamSize * ((k + 0.5) / HEIGHTS - 0.5);
    lit += litWidth(path, height);
    whole += (2 * halfWidth(path, height)) / fullWidth(path);
  }
  return {
    diameter,
    magnification,
    middle,
    slitFilled: litPiece(path).opening / levelSlit,
    brightness: sum / (PLACES * PLACES),
    coneMiddle: coneMiddle(path),
    beamFilled: lit / whole,
  };
}

/** Length of the beam that the condenser's cone lights at a height in the tube, m from the middle of the beam, as a share of the beam's full width. */
export function litWidth(path: PathInput, height: number): number {
  const half = halfWidth(path, height);
  const { condenserDiameter, rail, collimatorFocalLength } = path;
  if (condenserDiameter === undefined) return (2 * half) / fullWidth(path);
  const radius = (collimatorFocalLength * condenserDiameter) / rail.condenserToSlit / 2;
  const { right, up } = coneMiddle(path);
  const square = radius * radius - (height - up) * (height - up);
  if (!(square > 0)) return 0;
  const chord = Math.sqrt(square);
  const lit = Math.min(half, right + chord) - Math.max(-half, right - chord);
  return Math.max(0, lit) / fullWidth(path);
}

/** The part of the level slit's opening that the lamp's image lights: how high, m, and how far its middle stands above the slit's own, m. */
export function litPiece(path: PathInput): { readonly opening: number; readonly above: number } {
  const { levelSlit, rail, source } = path;
  const radius = (spotSize(source) * rail.condenserToSlit) / rail.lampToCondenser / 2;
  const { at } = seenPiece(path);
  const middle = imageMiddle(path);
  const aside = at.right - middle.right;
  const chord = radius === Infinity ? Infinity : Math.sqrt(Math.max(0, radius * radius - aside * aside));
  const above = middle.up - at.up;
  const top = Math.min(levelSlit / 2, above + chord);
  const bottom = Math.max(-levelSlit / 2, above - chord);
  return top > bottom ? { opening: top - bottom, above: (top + bottom) / 2 } : { opening: 0, above: 0 };
}

/** Image of the opening that the picture shows: all of it where the lamp's image is not asked for or misses it. */
export function shownPiece(path: PathInput): { readonly opening: number; readonly above: number } {
  const whole = { opening: path.levelSlit, above: 0 };
  if (path.lampImage !== true) return whole;
  const lit = litPiece(path);
  return lit.opening > 0 ? lit : whole;
}

/**
 * Light of the bench with lamp and condenser where they stand, over that with both on the axis: what a rate that was measured at a bench set right is worth here.
 * @throws Refusal where no light comes through at all
 */
export function lampShare(path: PathInput): number {
  const { lampOffset, condenserOffset, ...rest } = path;
  if (lampOffset === undefined && condenserOffset === undefined) return 1;
  const light = (each: PathInput): number => {
    const { brightness, beamFilled } = lampImage(each);
    return brightness * beamFilled;
  };
  const here = light(path);
  if (here > 0) return here / light(rest);
  throw new Refusal({
    code: "lamp-misses",
    field: condenserOffset === undefined ? "path.lampUp" : "path.condenserUp",
    received: "a place so far off the axis that no light comes through",
    expected: "lamp and condenser nearer to it",
  });
}

function imageMiddle({ rail, lampOffset = CENTRED, condenserOffset = CENTRED }: PathInput): Aside {
  const m = rail.condenserToSlit / rail.lampToCondenser;
  return {
    right: (1 + m) * condenserOffset.right - m * lampOffset.right,
    up: (1 + m) * condenserOffset.up - m * lampOffset.up,
  };
}

function coneMiddle({ rail, collimatorFocalLength, condenserOffset = CENTRED }: PathInput): Aside {
  const back = -collimatorFocalLength / rail.condenserToSlit;
  return { right: back * condenserOffset.right, up: back * condenserOffset.up };
}

/** Middle and length of the piece of the level slit that the plumb slit looks at, m. */
function seenPiece(path: PathInput): { readonly at: Aside; readonly length: number } {
  const back = path.collimatorFocalLength / path.focalLength;
  return {
    at: { right: -(path.plumbSlitOffset ?? 0) * back, up: path.levelSlitOffset ?? 0 },
    length: path.plumbSlit * back,
  };
}

function fullWidth({ aperture, beamSize, beamWidth }: PathInput): number {
  return aperture === "round" ? beamSize : beamWidth;
}

/** Half of the beam's own width at a height from its middle, m. */
function halfWidth(path: PathInput, height: number): number {
  if (path.aperture !== "round") return path.beamWidth / 2;
  return Math.sqrt(Math.max(0, (path.beamSize * path.beamSize) / 4 - height * height));
}

function spotSize({ size, profile }: SourceInput): number {
  return profile === undefined ? (size ?? Infinity) : 2 * profile[profile.length - 1][0];
}

/** Brightness of the spot at a distance from its middle, m, relative to its brightest. */
function profileOf({ size, profile }: SourceInput): (distance: number) => number {
  if (profile === undefined) return (r) => (size === undefined || r <= size / 2 ? 1 : 0);
  const at = Float64Array.from(profile, (row) => row[0]);
  const most = profile.reduce((high, row) => Math.max(high, row[1]), 0);
  const curve = new MonotoneCubic(
    at,
    Float64Array.from(profile, (row) => (most > 0 ? row[1] / most : 0)),
  );
  return (r) => (r > at[at.length - 1] ? 0 : curve.value(Math.max(at[0], r)));
}
