/** The lamp's image on the level slit and the condenser's cone behind it: which part of slit and beam they light. */
import { hypot } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import type { PathInput, SourceInput } from "./api.ts";

/** Places over the lit piece of the slit in either direction. */
const PLACES = 24;

export interface LampImage {
  /** diameter of the luminous spot's image on the level slit, m; Infinity where the spot has no stated size */
  readonly diameter: number;
  /** image over lamp, 1 */
  readonly magnification: number;
  /** share of the opening's height that the image covers, 1 */
  readonly slitFilled: number;
  /** light of the piece of slit that the plumb slit looks at, relative to the spot's brightest, 1 */
  readonly brightness: number;
  /** share of the beam that the condenser's cone fills, 1 */
  readonly beamFilled: number;
}

/**
 * A condenser in focus: image = lamp × image distance/object distance; the cone that a condenser of free diameter D sends through the slit is as wide in the tube as
 * f₁·D/(its distance). The plumb slit looks at a piece of the level slit as long as its own opening × f₁/F, on the other side of the axis.
 */
export function lampImage(path: PathInput): LampImage {
  const { rail, source, levelSlit } = path;
  const magnification = rail.condenserToSlit / rail.lampToCondenser;
  const diameter = spotSize(source) * magnification;
  const back = path.collimatorFocalLength / path.focalLength;
  const length = path.plumbSlit * back;
  const middle = -(path.plumbSlitOffset ?? 0) * back;
  const profile = profileOf(source);
  let sum = 0;
  for (let i = 0; i < PLACES; i++) {
    const x = middle + length * ((i + 0.5) / PLACES - 0.5);
    for (let k = 0; k < PLACES; k++) {
      const y = (path.levelSlitOffset ?? 0) + levelSlit * ((k + 0.5) / PLACES - 0.5);
      sum += profile(hypot(x, y) / magnification);
    }
  }
  let lit = 0;
  for (let k = 0; k < PLACES; k++) lit += litWidth(path, path.beamSize * ((k + 0.5) / PLACES - 0.5)) / PLACES;
  return {
    diameter,
    magnification,
    slitFilled: Math.min(1, diameter / levelSlit),
    brightness: sum / (PLACES * PLACES),
    beamFilled: lit,
  };
}

/** Share of the beam's width that the condenser's cone lights at a height in the tube, m from the middle of the beam. */
export function litWidth(path: PathInput, height: number): number {
  const { condenserDiameter, rail, collimatorFocalLength, beamWidth } = path;
  if (condenserDiameter === undefined) return 1;
  const radius = (collimatorFocalLength * condenserDiameter) / rail.condenserToSlit / 2;
  const square = radius * radius - height * height;
  return square > 0 ? Math.min(1, (2 * Math.sqrt(square)) / beamWidth) : 0;
}

/** Opening of the level slit that the lamp's image lights, m. */
export function litOpening(path: PathInput): number {
  return path.lampImage === true ? path.levelSlit * lampImage(path).slitFilled : path.levelSlit;
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
