/** The picture thrown on a screen for an audience: how bright it is there, and what an eye tells apart from a seat. */
import hazards from "../../data/hazards.json" with { type: "json" };
import { lightBudget, type SpectralMap } from "../path/index.ts";
import { cie1931, PLANCK, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { Setup } from "../setup/index.ts";
import { acuityLength } from "./limits.ts";

export interface Screen {
  /** "light": the lens throws the light itself; "camera": a projector shows the camera's picture */
  readonly shows: "light" | "camera";
  /** width of the whole picture on the screen, m */
  readonly width: number;
  /** of the last row from the screen, m */
  readonly distance: number;
}

export interface ScreenView {
  /** picture on the screen over picture on the sensor, 1 */
  readonly magnification: number;
  /** light of the cold line on the screen, lx */
  readonly illuminance: number;
  /** of a white matt screen, cd/m² */
  readonly luminance: number;
  /** acuity of a sound eye at that luminance, decimal (1 tells one minute of arc apart) */
  readonly acuity: number;
  /** smallest detail told apart from the last row, m on the screen; Infinity where the line is too dim to show any */
  readonly detail: number;
}

/** lm/W at the peak of V(λ): SI definition of the candela */
const EFFICACY = 683;

export const CINEMA = hazards.screen.cinema;
const { acuity: LAW, contrast: CONTRAST } = hazards.screen;
export const ACUITY_SOURCE = LAW.source;

/**
 * The picture on a screen. Thrown as light, by the camera's lens on a screen in the sensor's place, enlarged: radiance is
 * kept, so the light falls with the square of the enlargement; the lens that enlarges loses nothing here. From the camera by
 * a projector: as bright as the dimmest screen that the standards of cinemas allow. E = 683 V(λ) E_e,
 * L = E/π for a matt white screen. At long and short wavelengths in the dark the eye's V(λ) no longer holds (blue then
 * looks brighter); below 3 cd/m² the figure is a lower limit in the blue.
 * @param wavelength vacuum wavelength of the colour that is looked at, m
 */
export function screenView(setup: Setup, map: SpectralMap, wavelength: number, screen: Screen): ScreenView {
  const { camera, path } = setup;
  const magnification = screen.width / (camera.columns * camera.pixel);
  if (screen.shows === "camera") {
    const luminance = CINEMA.value;
    return seenAs(magnification, luminance * Math.PI, luminance, screen);
  }
  // A pixel far smaller than the slit's image, so that none of it lies outside.
  const pixel = 1e-7;
  const { radiance, photonRate } = lightBudget({ path, map, pixel, quantumEfficiency: 1 }, wavelength);
  const irradiance = radiance > 0 ? (photonRate * photonEnergy(wavelength)) / pixel ** 2 : 0;
  const illuminance = (EFFICACY * visibility(wavelength) * irradiance) / magnification ** 2;
  return seenAs(magnification, illuminance, screenLuminance(illuminance), screen);
}

function seenAs(magnification: number, illuminance: number, luminance: number, screen: Screen): ScreenView {
  const acuity = acuityAt(luminance);
  return {
    magnification,
    illuminance,
    luminance,
    acuity,
    detail: acuity > 0 ? acuityLength(screen.distance) / acuity : Infinity,
  };
}

/** Luminance of a matt screen, cd/m², under an illuminance in lx: L = ρE/π. */
export function screenLuminance(illuminance: number, reflectance = 1): number {
  return (reflectance * illuminance) / Math.PI;
}

/**
 * Decimal acuity of a sound eye for a luminance in cd/m² and a contrast in per cent, by the law of Ikeda, Noda and
 * Yamaguchi for Landolt rings (data/hazards.json); 0 below the luminance from which the law holds.
 */
export function acuityAt(luminance: number, contrast: number = CONTRAST.value): number {
  if (luminance < LAW.least_factor * contrast ** LAW.least_power) return 0;
  const base = LAW.offset * contrast ** LAW.offset_power + luminance ** (1 / LAW.root);
  return luminance / (LAW.factor * contrast ** LAW.factor_power * base ** LAW.root);
}

/** V(λ): ȳ of the CIE 1931 observer, linear between its points, 0 beyond them. */
function visibility(wavelength: number): number {
  const { wavelengths, y } = OBSERVER;
  const last = wavelengths.length - 1;
  if (wavelength <= wavelengths[0] || wavelength >= wavelengths[last]) return 0;
  const at = (wavelength - wavelengths[0]) / (wavelengths[1] - wavelengths[0]);
  const i = Math.min(last - 1, Math.floor(at));
  return y[i] + (at - i) * (y[i + 1] - y[i]);
}

const OBSERVER = cie1931();

/** h c/λ, J */
function photonEnergy(wavelength: number): number {
  return (PLANCK * SPEED_OF_LIGHT) / wavelength;
}
