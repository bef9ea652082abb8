/** What an audience would see of the same light on a screen: lux and cd/m², colour, how fine the line looks, and what the eye makes of so little light. */
import { pow } from "../numerics/elementary/index.ts";
import sight from "../../data/sight.json" with { type: "json" };
import {
  imageScale,
  lightBudget,
  linePeak,
  type PathInput,
  sharpness,
  type SpectralMap,
} from "../path/index.ts";
import type { CameraInput, ScreenInput } from "./api.ts";
import { tristimulus } from "./colour.ts";

export interface Audience {
  /** vacuum wavelength at even steps over the screen, m */
  readonly wavelength: Float64Array;
  /** illuminance in the middle of the bright line there, lx */
  readonly illuminance: Float64Array;
  /** luminance of the screen there, cd/m² */
  readonly luminance: Float64Array;
  /** chromaticity, CIE 1931 */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly brightest: {
    readonly wavelength: number;
    readonly illuminance: number;
    readonly luminance: number;
  };
  /** mean over the strip that the spectrum lights, lx: what a meter larger than its height would tell, were the strip as high */
  readonly meanIlluminance: number;
  /** full width of the bright line at half its height, as drawn on the screen, m and minutes of arc for the eye */
  readonly lineThickness: number;
  readonly lineMinutes: number;
  /** one of "cones" (colour as by day), "both", "rods" (grey), "nothing" */
  readonly adaptation: "cones" | "both" | "rods" | "nothing";
  /** sentences for a reader, common practice marked as such */
  readonly findings: readonly string[];
}

/** Places over the screen. */
const PLACES = 65;
const MINUTE = Math.PI / 180 / 60;
/** Taken for a place of the line without extent, m on the sensor. */
const DETAIL = 1e-9;

/**
 * The picture enlarged from the sensor to the screen: the same flux on (screen width/sensor width)² the area. Illuminance = K_m ∫E_λ V(λ) dλ over the band that
 * the plumb slit lets through, K_m = 683 lm/W (CIE; the definition of the candela at 540 THz); luminance = reflectance · illuminance/π for a screen that obeys
 * Lambert's law. Light of one wavelength: the line at each place is nearly monochromatic.
 * @throws Refusal where the lamp has no known radiance ("flat")
 */
export function audienceOf(
  path: PathInput,
  map: SpectralMap,
  camera: CameraInput,
  screen: ScreenInput,
): Audience {
  const sensorWidth = camera.pixel * camera.columns;
  const enlarged = screen.width / sensorWidth;
  const make = (): Float64Array => new Float64Array(PLACES);
  const out = { wavelength: make(), illuminance: make(), luminance: make(), x: make(), y: make() };
  // A detail far smaller than the slit's image: the middle of the line, not its mean over a pixel.
  const input = { path, map, pixel: DETAIL, quantumEfficiency: 1 };
  let best = 0;
  for (let k = 0; k < PLACES; k++) {
    const place = sensorWidth * ((k + 0.5) / PLACES - 0.5);
    const w = map.wavelengthAt(Math.min(map.reach.right, Math.max(map.reach.left, place)));
    const [x, y, z] = tristimulus(w);
    const sum = x + y + z;
    out.wavelength[k] = w;
    out.illuminance[k] =
      (sight.luminous_efficacy.value * y * lightBudget(input, w).irradiance) / pow(enlarged, 2);
    out.luminance[k] = (screen.reflectance * out.illuminance[k]) / Math.PI;
    // Beyond what the eye sees there is no colour: that of equal energy stands for it.
    out.x[k] = sum > 0 ? x / sum : 1 / 3;
    out.y[k] = sum > 0 ? y / sum : 1 / 3;
    if (out.illuminance[k] > out.illuminance[best]) best = k;
  }
  const lineThickness = enlarged * sharpness(path, map, 0, out.wavelength[best]).height.total;
  const lineMinutes = lineThickness / screen.distance / MINUTE;
  const brightest = {
    wavelength: out.wavelength[best],
    illuminance: out.illuminance[best],
    luminance: out.luminance[best],
  };
  return {
    ...out,
    brightest,
    meanIlluminance: out.illuminance.reduce((sum, lux) => sum + lux, 0) / PLACES,
    lineThickness,
    lineMinutes,
    adaptation: adaptationAt(brightest.luminance),
    findings: findingsOf(brightest, lineMinutes),
  };
}

function adaptationAt(luminance: number): Audience["adaptation"] {
  const { rods_begin, cones_begin, cones_alone } = sight;
  if (luminance >= cones_alone.value) return "cones";
  if (luminance >= cones_begin.value) return "both";
  return luminance >= rods_begin.value ? "rods" : "nothing";
}

const ADAPTED: Readonly<Record<Audience["adaptation"], string>> = {
  cones: "the eye sees its colour as by day",
  both: "colours look pale, the eye uses rods and cones together",
  rods: "it looks grey, and only to eyes that have rested in the dark for some twenty minutes",
  nothing: "the eye sees nothing of it",
};

function findingsOf(brightest: Audience["brightest"], minutes: number): string[] {
  const { illuminance, luminance } = brightest;
  const out = [
    `Brightest at ${(brightest.wavelength * 1e9).toFixed(1)} nm: ${illuminance.toPrecision(2)} lx on the screen, ${luminance.toPrecision(2)} cd/m2; ${ADAPTED[adaptationAt(luminance)]} (common practice, no source).`,
  ];
  if (illuminance < sight.class_illuminance.value) {
    out.push(
      `Below ${sight.class_illuminance.value} lx a class sees little: show the camera's picture instead (common practice, no source).`,
    );
  }
  if (minutes < sight.resolved_minutes.value) {
    out.push(
      `The line is ${minutes.toPrecision(2)} minutes of arc thick for the audience, finer than an eye tells apart: it looks as thick as one, and paler.`,
    );
  }
  return out;
}

/**
 * Slits that make the brightest part of the line as bright as a class needs, with a line just thick enough for its eyes: illuminance grows with the plumb
 * slit, thickness with the level slit; out of focus a thinner line is fainter too.
 * @returns m; undefined plumbSlit where the eye sees nothing at these wavelengths
 */
export function slitsForAudience(
  path: PathInput,
  map: SpectralMap,
  camera: CameraInput,
  screen: ScreenInput,
  seen: Audience,
): { plumbSlit?: number; levelSlit: number; illuminance: number } {
  const wanted = sight.class_illuminance.value;
  const enlarged = screen.width / (camera.pixel * camera.columns);
  const relay = (path.focalLength * path.cameraFocalLength) / path.secondCollimatorFocalLength;
  const detail = sight.resolved_minutes.value * MINUTE * screen.distance;
  const levelSlit = (detail / enlarged / relay) * path.collimatorFocalLength;
  const middle = (slit: number): number => {
    const { levelSlitHeight, blurHeight } = imageScale({ ...path, levelSlit: slit }, map);
    return linePeak(levelSlitHeight, blurHeight, DETAIL);
  };
  const wider = (wanted / seen.brightest.illuminance) * (middle(path.levelSlit) / middle(levelSlit));
  return {
    ...(seen.brightest.illuminance > 0 ? { plumbSlit: path.plumbSlit * wider } : {}),
    levelSlit,
    illuminance: wanted,
  };
}
