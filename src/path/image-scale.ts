/** What lenses and slits make of angles and openings, at the sensor. */
import { atan, hypot, tan } from "../numerics/elementary/index.ts";
import type { ImageScale, PathInput, SpectralMap } from "./api.ts";
import { shownPiece } from "./lamp-image.ts";
import { AIRY_SIGMA, SINC2_SIGMA } from "./diffraction.ts";

export interface ImageScaleOptions {
  /** false leaves the diffraction at the beam's edges out; default true */
  readonly diffraction?: boolean;
}

/**
 * Scale from the tube to the sensor.
 *
 * A deflection θ at the tube moves the image by F·θ at the plumb slit and by F·θ·f_camera/f_collimator2 on the sensor. Slit images are the
 * openings times their magnifications; the plumb slit's also carries the disperser's own stretch. Diffraction at the beam's edges (sinc²
 * of height or width a, first dark at λ/a; Airy's pattern for a round beam, 1.22 λ/D) enters as the Gaussian of equal full width at half maximum, joined with
 * defocus in quadrature.
 * @param path bench from lamp to sensor
 * @param map its spectral map (for the stretch)
 * @returns lengths in m on the sensor; see ImageScale
 */
export function imageScale(path: PathInput, map: SpectralMap, options: ImageScaleOptions = {}): ImageScale {
  const relay = path.cameraFocalLength / path.secondCollimatorFocalLength;
  const perRadian = path.focalLength * relay;
  const round = path.aperture === "round";
  const sigma = options.diffraction === false ? 0 : round ? AIRY_SIGMA : SINC2_SIGMA;
  const spread = sigma * path.centreWavelength * perRadian;
  const lean = pictureLean(path, map.stretch);
  return {
    perRadian: (path.inverted ? -perRadian : perRadian) * hypot(1, tan(lean)),
    levelSlitHeight: (shownPiece(path).opening * perRadian) / path.collimatorFocalLength,
    plumbSlitWidth: path.plumbSlit * relay * map.stretch,
    blurHeight: hypot(path.defocus, spread / path.beamSize),
    blurWidth: hypot(path.defocus, (spread / (round ? path.beamSize : path.beamWidth)) * map.stretch),
    roll: path.cameraRoll - lean,
    levelSlitTilt: path.levelSlitTilt + lean,
    stray: path.stray,
    source: path.source,
    ...(path.eachColour === true ? { losses: path } : {}),
  };
}

/** Standard deviations of a blur beyond which nothing of it is seen: 3e-7 of a Gaussian. */
const TAILS = 5;

/** How far from its own place along the spectrum light may still fall on a sensor of this height, m: plumb slit's image, blur, and the turn of the camera. */
export function strayAcross(scale: ImageScale, height: number): number {
  const { plumbSlitWidth, blurWidth, roll } = scale;
  return plumbSlitWidth / 2 + TAILS * blurWidth + (height / 2) * Math.abs(tan(roll));
}

/**
 * Lean of the spectral lines in the picture for a plumb slit out of plumb, rad. A shear X + tan(lean)·Y is a roll by −lean, a slope by +lean, heights larger by
 * 1/cos(lean) (both here) and places along the spectrum smaller by cos(lean)·(1 − tan(lean)·tan(slope)) (in the map): exact, so that no renderer needs a shear.
 */
export function pictureLean(path: PathInput, stretch: number): number {
  const { plumbSlitTilt = 0 } = path;
  return plumbSlitTilt === 0 ? 0 : atan(tan(plumbSlitTilt) * stretch * (path.inverted ? -1 : 1));
}
