/**
 * Beams of the bench drawing: the paraxial course of the light's upper and lower edge through the lenses, for the side
 * view (bent by the vapour) and the view from above (spread by the disperser). Bends and spreads are drawn larger than
 * they are by the stated factors. Heights in metres, lengths along the rail in metres.
 */
import type { Setup } from "../../setup/api.ts";
import { type Place, placeOf } from "./places.ts";

/** One edge of a beam as points (z, height). */
export type Edge = readonly (readonly [z: number, y: number])[];

export interface Beam {
  readonly upper: Edge;
  readonly lower: Edge;
}

/** The white light from the lamp to the middle of the tube, the same in both views but for its size. */
export function whiteBeam(setup: Setup, places: readonly Place[], size: number, height: number): Beam {
  const at = (id: Place["id"]): number => (placeOf(places, id).from + placeOf(places, id).to) / 2;
  const tube = placeOf(places, "tube");
  const condenser = (at("level-slit") - at("condenser")) * (size / 2 / setup.path.collimatorFocalLength);
  const edge = (side: number): Edge => [
    [at("lamp"), 0],
    [at("condenser"), side * condenser],
    [at("level-slit"), 0],
    [at("collimator"), height + (side * size) / 2],
    [(tube.from + tube.to) / 2, height + (side * size) / 2],
  ];
  return { upper: edge(1), lower: edge(-1) };
}

/** One colour from the middle of the tube to the camera, seen from the side; `bend` in rad as drawn. */
export function sideBeam(setup: Setup, places: readonly Place[], bend: number): Beam {
  const {
    focalLength,
    secondCollimatorFocalLength: second,
    cameraFocalLength,
    beamSize,
    beamHeight,
  } = setup.path;
  const tube = placeOf(places, "tube");
  const middle = (tube.from + tube.to) / 2;
  const lens = mid(places, "focusing-lens");
  const slit = mid(places, "plumb-slit");
  const collimator = mid(places, "second-collimator");
  const cameraLens = mid(places, "camera-lens");
  const camera = mid(places, "camera");
  const image = focalLength * bend;
  const edge = (side: number): Edge => {
    const start = beamHeight + (side * beamSize) / 2;
    const atLens = start + bend * (lens - middle);
    const slope = (image - atLens) / focalLength;
    const atCollimator = image + slope * second;
    const outward = -image / second;
    return [
      [middle, start],
      [lens, atLens],
      [slit, image],
      [collimator, atCollimator],
      [cameraLens, atCollimator + outward * (cameraLens - collimator)],
      [camera, outward * cameraFocalLength],
    ];
  };
  return { upper: edge(1), lower: edge(-1) };
}

/** One colour from the middle of the tube to the camera, seen from above; `spread` in rad as drawn, after the disperser. */
export function topBeam(setup: Setup, places: readonly Place[], spread: number): Beam {
  const { focalLength, secondCollimatorFocalLength: second, cameraFocalLength, beamWidth } = setup.path;
  const tube = placeOf(places, "tube");
  const prism = placeOf(places, "disperser");
  const edge = (side: number): Edge => {
    const start = (side * beamWidth) / 2;
    const after = -start * (second / focalLength);
    return [
      [(tube.from + tube.to) / 2, start],
      [mid(places, "focusing-lens"), start],
      [mid(places, "plumb-slit"), 0],
      [mid(places, "second-collimator"), after],
      [(prism.from + prism.to) / 2, after],
      [
        mid(places, "camera-lens"),
        after + spread * (mid(places, "camera-lens") - (prism.from + prism.to) / 2),
      ],
      [mid(places, "camera"), spread * cameraFocalLength],
    ];
  };
  return { upper: edge(1), lower: edge(-1) };
}

function mid(places: readonly Place[], id: Place["id"]): number {
  const place = placeOf(places, id);
  return (place.from + place.to) / 2;
}

/** A round factor (1, 2, 5 times a power of ten) that brings `largest` near to `wanted`. */
export function roundFactor(wanted: number, largest: number): number {
  if (!(largest > 0)) return 1;
  const raw = wanted / largest;
  const power = 10 ** Math.floor(Math.log10(raw));
  const lead = raw / power;
  return Math.max(1, (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power);
}
