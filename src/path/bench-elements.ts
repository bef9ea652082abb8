/** What stands on the bench, where and how large, with the lines of light between: everything a drawing to scale needs. */
import { tan } from "../numerics/elementary/index.ts";
import type { VesselInput } from "../vessel/api.ts";
import type { PathInput } from "./api.ts";

export type BenchElementKind =
  | "source"
  | "condenser"
  | "level-slit"
  | "collimator"
  | "tube"
  | "focusing-lens"
  | "plumb-slit"
  | "second-collimator"
  | "disperser"
  | "camera-lens"
  | "sensor";

export interface BenchElement {
  readonly kind: BenchElementKind;
  /** middle along the rail, m from the level slit, light running towards larger z; beyond the disperser along the bent axis */
  readonly z: number;
  /** extent along the rail, m; 0 for thin things */
  readonly length: number;
  /** free height and width for the light, m */
  readonly height: number;
  readonly width: number;
}

/** A line of light: z along the rail and offset from the axis (up in the side view, right in the view from above), m, same lengths. */
export interface BenchRay {
  readonly view: "side" | "top";
  readonly z: readonly number[];
  readonly offset: readonly number[];
}

export interface BenchLayout {
  readonly elements: readonly BenchElement[];
  readonly rays: readonly BenchRay[];
  /** what was assumed because no field states it, for the drawing's legend */
  readonly assumptions: readonly string[];
}

/** Free opening of a lens over the beam through it: common practice, no source. */
const ROOM = 1.5;
/**
 * Layout with every lens at its focal distance: level slit – collimator – tube – focusing lens – plumb slit – second collimator – disperser – camera lens –
 * sensor. Rays: upper and lower edge of the beam in the side view for light bent by `bends`, both edges in the view from above.
 * @param bends deflections at the tube to draw, rad, e.g. [0, 1e-3]
 * @param sensor height and width of the sensor, m
 */
export function benchElements(
  path: PathInput,
  vessel: Pick<VesselInput, "bore" | "length">,
  bends: readonly number[] = [0],
  sensor: { readonly height: number; readonly width: number } = { height: 0.01, width: 0.01 },
): BenchLayout {
  const {
    collimatorFocalLength: f1,
    focalLength: f2,
    secondCollimatorFocalLength: f3,
    cameraFocalLength: f4,
  } = path;
  const { rail } = path;
  const tube = f1 + rail.collimatorToTube + vessel.length / 2;
  const focusing = tube + vessel.length / 2 + rail.tubeToLens;
  const plumb = focusing + f2;
  const second = plumb + f3;
  const relayedHeight = (path.beamSize * f3) / f2;
  const relayedWidth = (path.beamWidth * f3) / f2;
  const prism = lengthOfDisperser(path);
  const disperser = second + rail.collimatorToDisperser + prism / 2;
  const camera = disperser + prism / 2 + rail.disperserToCamera;
  const lens = (kind: BenchElementKind, z: number, height: number, width: number): BenchElement => ({
    kind,
    z,
    length: 0,
    height: ROOM * height,
    width: ROOM * width,
  });
  const condenser = -rail.condenserToSlit;
  const slitLength = (Math.max(path.beamSize, path.beamWidth) * f1) / Math.max(f1, f2);
  const elements: BenchElement[] = [
    {
      kind: "source",
      z: condenser - rail.lampToCondenser,
      length: 0,
      height: path.beamSize,
      width: path.beamWidth,
    },
    lens(
      "condenser",
      condenser,
      (path.beamSize * rail.condenserToSlit) / f1,
      (path.beamWidth * rail.condenserToSlit) / f1,
    ),
    { kind: "level-slit", z: 0, length: 0, height: path.levelSlit, width: slitLength },
    lens("collimator", f1, path.beamSize, path.beamWidth),
    { kind: "tube", z: tube, length: vessel.length, height: vessel.bore, width: vessel.bore },
    lens("focusing-lens", focusing, path.beamSize, path.beamWidth),
    { kind: "plumb-slit", z: plumb, length: 0, height: sensor.height * (f3 / f4), width: path.plumbSlit },
    lens("second-collimator", second, relayedHeight, relayedWidth),
    {
      kind: "disperser",
      z: disperser,
      length: prism,
      height: ROOM * relayedHeight,
      width: ROOM * relayedWidth,
    },
    lens("camera-lens", camera, relayedHeight, relayedWidth),
    { kind: "sensor", z: camera + f4, length: 0, height: sensor.height, width: sensor.width },
  ];
  const places = [0, f1, tube, focusing, plumb, second, camera, camera + f4];
  return {
    elements,
    rays: [
      ...bends.flatMap((bend) => [1, -1].map((edge) => sideRay(path, places, bend, edge))),
      ...[1, -1].map((edge) => topRay(path, places, edge)),
    ],
    assumptions: ["lenses half as wide again as the beam"],
  };
}

/** Thickness of a grating on its glass, m: common practice, no source. */
const GRATING = 0.008;
/** Smallest faces a prism is sold with, m: common practice, no source. */
const SMALLEST_FACE = 0.025;

/** Length of the disperser along the light, m. */
export function lengthOfDisperser(path: PathInput): number {
  return disperserLength(
    path.disperser,
    (ROOM * path.beamSize * path.secondCollimatorFocalLength) / path.focalLength,
  );
}

/** The same for faces of this height: each flint stands between crowns of half its base. */
function disperserLength(disperser: PathInput["disperser"], height: number): number {
  if (disperser.kind !== "direct-vision") return GRATING;
  const base = Math.max(SMALLEST_FACE, height) * tan(disperser.flintApex / 2);
  const flints = (disperser.elements - 1) / 2;
  return disperser.trains * (flints * base * 2 + SMALLEST_FACE / 2);
}

/** Edge of the beam in the side view: parallel through the tube, bent in its middle, brought to F·θ at the plumb slit, relayed upside down to the sensor. */
function sideRay(path: PathInput, z: readonly number[], bend: number, edge: number): BenchRay {
  const y = path.beamHeight + (edge * path.beamSize) / 2;
  const atLens = y + bend * (z[3] - z[2]);
  // Thin lens about the axis of the beam: parallel light at angle θ meets the focal plane F·θ from there.
  const atSlit = path.beamHeight + bend * path.focalLength;
  const slope = (atSlit - atLens) / path.focalLength;
  const atSecond = atSlit + slope * path.secondCollimatorFocalLength;
  const out = -(bend * path.focalLength) / path.secondCollimatorFocalLength;
  const atCamera = atSecond + out * (z[6] - z[5]);
  const atSensor = path.beamHeight + out * path.cameraFocalLength;
  return { view: "side", z, offset: [path.beamHeight, y, y, atLens, atSlit, atSecond, atCamera, atSensor] };
}

function topRay(path: PathInput, z: readonly number[], edge: number): BenchRay {
  const x = (edge * path.beamWidth) / 2;
  const relayed = (-x * path.secondCollimatorFocalLength) / path.focalLength;
  return { view: "top", z, offset: [0, x, x, x, 0, relayed, relayed, 0] };
}
