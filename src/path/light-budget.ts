/** From the lamp's radiance to electrons in a pixel: what the slits, the glass and the disperser leave of the light. */
import { pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { PLANCK, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { PathInput, SpectralMap } from "./api.ts";
import { lossSteps } from "./bench-losses.ts";
import { imageScale } from "./image-scale.ts";
import { lampImage } from "./lamp-image.ts";
import { linePeak } from "./line-peak.ts";
import { sourceRadiance } from "./source.ts";

/** Shares that no field of the setup states. */
export interface BudgetInput {
  readonly path: PathInput;
  readonly map: SpectralMap;
  /** pixel pitch, m; for a screen, a detail that the eye tells apart */
  readonly pixel: number;
  /** electrons per photon, 1 */
  readonly quantumEfficiency: number;
}

/** One step of the budget: what it leaves of the light before it. */
export interface BudgetStep {
  readonly name: string;
  /** share left, 1 */
  readonly share: number;
}

export interface LightBudget {
  /** spectral radiance of the source at the wavelength, W/(m²·sr·m) */
  readonly radiance: number;
  /** étendue of slit area and beam, m²·sr: the same at every lossless plane from the first slit to the sensor */
  readonly etendue: number;
  /** vacuum wavelength that one pixel's width takes in, m */
  readonly wavelengthPerPixel: number;
  /** vacuum wavelength that the image of the plumb slit takes in, m */
  readonly band: number;
  /** irradiance in the middle of the cold line's image, W/m² */
  readonly irradiance: number;
  readonly steps: readonly BudgetStep[];
  /** product of the steps */
  readonly throughput: number;
  /** photons per second on a pixel in the middle of the cold line */
  readonly photonRate: number;
  /** electrons per second there: the camera's `rate` */
  readonly electronRate: number;
}

/**
 * Electrons per second in a pixel in the middle of the cold line.
 *
 * Radiance is kept by lossless optics (étendue A·Ω constant): the sensor sees the source's radiance L through the exit cone. The irradiance within the line at a
 * pixel is L_λ·Ω'·τ·Δλ with Ω' the solid angle of the beam as the sensor sees it and Δλ the wavelengths that the plumb slit's image lets overlap there; a slit image
 * narrower than a pixel fills part of it, and one out of focus is fainter in its middle (line-peak.ts). A lamp or condenser whose size is stated may fail to fill slit and beam: two steps of their own.
 * @param wavelength vacuum wavelength, m, inside the reach of the disperser
 * @throws Refusal outside the reach
 */
export function lightBudget(input: BudgetInput, wavelength: number): LightBudget {
  const { path, map, pixel } = input;
  const scale = imageScale(path, map);
  const relay = path.cameraFocalLength / path.secondCollimatorFocalLength;
  // The beam at the tube, beamSize high and beamWidth wide, seen from the plumb slit through a lens of focal length F.
  const area =
    path.aperture === "round" ? (Math.PI / 4) * pow(path.beamSize, 2) : path.beamSize * path.beamWidth;
  const solidAngleAtSlit = area / (path.focalLength * path.focalLength);
  // Radiance kept: area grows by relay² · stretch, the solid angle shrinks by it.
  const solidAngleAtSensor = solidAngleAtSlit / (relay * relay * map.stretch);
  const at = map.position(wavelength);
  const step = Math.min(pixel, (map.reach.right - map.reach.left) / 1e4);
  const low = Math.max(map.reach.left, at - step);
  const high = Math.min(map.reach.right, at + step);
  const perLength = (map.wavelengthAt(high) - map.wavelengthAt(low)) / (high - low);
  const slitImage = scale.plumbSlitWidth;
  const band = perLength * slitImage;
  const radiance = sourceRadiance(path.source, new Float64Array([wavelength]))[0];
  const filled = linePeak(scale.levelSlitHeight, scale.blurHeight, pixel);
  const steps: BudgetStep[] = [
    ...lossSteps(path).map(({ name, share }) => ({ name, share: share(wavelength) })),
    { name: "slit image, blurred, on a pixel in its middle", share: filled },
    ...lampSteps(path),
  ];
  const throughput = steps.reduce((product, s) => product * s.share, 1);
  const irradiance = radiance * band * solidAngleAtSensor * throughput;
  const power = irradiance * pixel * pixel;
  const photonRate = (power * wavelength) / (PLANCK * SPEED_OF_LIGHT);
  return {
    radiance,
    etendue:
      path.levelSlit * (path.focalLength / path.collimatorFocalLength) * path.plumbSlit * solidAngleAtSlit,
    wavelengthPerPixel: perLength * pixel,
    band,
    irradiance,
    steps,
    throughput,
    photonRate,
    electronRate: photonRate * input.quantumEfficiency,
  };
}

/**
 * What a small lamp and a small condenser leave dark, over the lamp's own profile and the round cone where `lampImage` asks for them, else by widths alone: the lamp's image (size × image distance/object distance) against the piece of the level slit that the
 * plumb slit looks at, and the condenser's cone against the one that the beam takes. No condenser makes the lamp brighter.
 */
function lampSteps(path: PathInput): BudgetStep[] {
  const { rail, source, condenserDiameter } = path;
  const out: BudgetStep[] = [];
  if (path.lampImage === true) {
    const { brightness, beamFilled } = lampImage(path);
    return [
      { name: "lamp's image over the level slit", share: brightness },
      { name: "condenser's cone over the beam", share: beamFilled },
    ];
  }
  if (source.size !== undefined) {
    const image = (source.size * rail.condenserToSlit) / rail.lampToCondenser;
    const length = (path.plumbSlit * path.collimatorFocalLength) / path.focalLength;
    out.push({
      name: "lamp's image over the level slit",
      share: Math.min(1, image / path.levelSlit) * Math.min(1, image / length),
    });
  }
  if (condenserDiameter !== undefined) {
    const cone = condenserDiameter / rail.condenserToSlit;
    const f = path.collimatorFocalLength;
    out.push({
      name: "condenser's cone over the beam",
      share: Math.min(1, (cone * f) / path.beamSize) * Math.min(1, (cone * f) / path.beamWidth),
    });
  }
  return out;
}

/** What a wished signal asks of the exposure, and what noise it will show. */
export interface ExposureAdvice {
  /** exposure that brings the middle of the cold line to the wished share of the full well, s */
  readonly exposure: number;
  readonly electrons: number;
  /** signal over shot and read noise in one pixel there, 1 */
  readonly signalToNoise: number;
  /** darkest light, as a share of the cold line, that stands above the read and dark noise (signal = 3 noise), 1 */
  readonly faintest: number;
}

/**
 * Exposure for a share of the full well.
 * @param rate electrons per second in the middle of the cold line
 * @param fill wished share of the full well, default 0.7
 */
export function exposureAdvice(
  rate: number,
  fullWell: number,
  readNoise: number,
  fill = 0.7,
): ExposureAdvice {
  const electrons = fill * fullWell;
  // signal = 3·√(signal + read²): signal = (9 + √(81 + 36 read²))/2
  const faint = (9 + Math.sqrt(81 + 36 * readNoise * readNoise)) / 2;
  return {
    exposure: electrons / rate,
    electrons,
    signalToNoise: electrons / Math.sqrt(electrons + readNoise * readNoise),
    faintest: faint / electrons,
  };
}

/**
 * Electrons per second in a pixel in the middle of the cold line where it is brightest on the sensor: what a camera of this efficiency gets, in absolute
 * numbers, in front of a lamp of known radiance.
 * @param width of the sensor, m
 * @throws Refusal for the lamp "flat", which has no radiance
 */
export function brightestRate(input: BudgetInput, width: number): number {
  if (input.path.source.kind === "flat") {
    throw new Refusal({
      code: "no-radiance",
      field: "camera.rateFrom",
      received: "budget, with a lamp of equal light at every wavelength",
      expected: "a lamp whose radiance is known, or camera.rateFrom stated with camera.rate",
    });
  }
  const { reach } = input.map;
  let most = 0;
  for (let k = 0; k < PLACES; k++) {
    const x = width * (k / (PLACES - 1) - 0.5);
    if (x > reach.left && x < reach.right)
      most = Math.max(most, lightBudget(input, input.map.wavelengthAt(x)).electronRate);
  }
  return most;
}

/** Places over the sensor at which the rate is looked at. */
const PLACES = 17;
