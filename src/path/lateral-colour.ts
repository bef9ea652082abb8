/** How large each colour is drawn: lenses whose focal length changes with wavelength magnify colours unlike. */
import type { PathInput } from "./api.ts";
import { lengthOfDisperser } from "./bench-elements.ts";
import type { Disperser } from "./disperser.ts";
import { lensShifts } from "./focus.ts";
import { glassOf } from "./glass.ts";

/** Size of the picture at a vacuum wavelength over that of the colour in focus. */
export interface ColourSize {
  /** along the height: sensor per angle at the tube */
  readonly height: (wavelength: number) => number;
  /** along the spectrum: sensor per angle behind the disperser */
  readonly width: (wavelength: number) => number;
}

/**
 * Magnification of colours by the chief ray, thin lenses at their stated distances: a lens that stands some way from where the light turns (tube, disperser) moves
 * colours of other focal length to another height. From the tube's middle d before the focusing lens, F to the slit, f₃ to the second collimator, and on to camera
 * lens and sensor, each lens by y′ = y, θ′ = θ − y/f(λ). A stated share acts on height and width alike.
 * @param toLens from the middle of the tube to the focusing lens, m
 * @returns undefined where all colours are alike
 */
export function colourSize(path: PathInput, toLens: number): ColourSize | undefined {
  const { lateralColour: lateral } = path;
  if (lateral === undefined) return undefined;
  if (lateral.kind === "stated") {
    const sharp = path.sharpAt ?? path.centreWavelength;
    const size = (w: number): number => 1 + lateral.perWavelength * (w - sharp);
    return { height: size, width: size };
  }
  const shift = lensShifts(path);
  if (shift === undefined) return undefined;
  const { focalLength: f2, secondCollimatorFocalLength: f3, cameraFocalLength: f4, rail } = path;
  const disperser = lengthOfDisperser(path);
  const between = rail.collimatorToDisperser + disperser + rail.disperserToCamera;
  return {
    height(w) {
      let y = toLens;
      let angle = 1 - y / (f2 * (1 + shift("focusing", w)));
      y += angle * (f2 + f3);
      angle -= y / (f3 * (1 + shift("second-collimator", w)));
      y += angle * between;
      angle -= y / (f4 * (1 + shift("camera", w)));
      return -((y + angle * f4) * f3) / (f2 * f4);
    },
    width(w) {
      const y = disperser / 2 + rail.disperserToCamera;
      return (y + (1 - y / (f4 * (1 + shift("camera", w)))) * f4) / f4;
    },
  };
}

/** The disperser, its colours ending where the index of the lenses' glass is no longer known, if the size of the picture asks for that. */
export function withinLenses(disperser: Disperser, { lateralColour, lens }: PathInput): Disperser {
  if (lateralColour?.kind !== "lenses" || lens === undefined) return disperser;
  if (lens.kind !== "singlet" && lens.kind !== "achromat") return disperser;
  const codes = lens.kind === "singlet" ? [lens.glass] : [lens.crown, lens.flint];
  const glasses = codes.map((code) => glassOf(code, "path.lensGlass"));
  return {
    ...disperser,
    shortest: Math.max(disperser.shortest, ...glasses.map(({ shortest }) => shortest)),
    longest: Math.min(disperser.longest, ...glasses.map(({ longest }) => longest)),
  };
}
