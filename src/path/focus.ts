/** Lenses that do not bring all colours to one focus: how their focal length changes, and how far each colour is blurred on the sensor. */
import { pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import type { LensInput, LensName, PathInput } from "./api.ts";
import { glassOf } from "./glass.ts";

/** Where an achromat's two colours meet: the F and C lines in vacuum, m (ISO 7944). */
const BLUE = 486.27e-9;
const RED = 656.45e-9;

/**
 * Relative focal length f(λ)/f(λ0) − 1 of a lens.
 *
 * Thin lens: the stated shift per wavelength times λ − λ0. Singlet: f ∝ 1/(n − 1). Achromat: two thin lenses in contact whose powers make F and C meet,
 * φ ∝ a(n1 − 1) + b(n2 − 1) with a·Δn1 + b·Δn2 = 0 (common textbook form, e.g. Born & Wolf, "Principles of Optics"); what is left is the secondary spectrum.
 * Table: a monotone cubic through the measured focal lengths, that of the last row beyond them.
 * @param sharp vacuum wavelength λ0 in focus, m
 * @returns a function of vacuum wavelength, m
 * @throws Refusal for an unknown glass, or two glasses that make no achromat
 */
export function focalShift(lens: LensInput, sharp: number): (wavelength: number) => number {
  const power = powerOf(lens, sharp);
  const there = power(sharp);
  return (wavelength) => there / power(wavelength) - 1;
}

function powerOf(lens: LensInput, sharp: number): (wavelength: number) => number {
  switch (lens.kind) {
    case "thin":
      return (w) => 1 / (1 + lens.shift * (w - sharp));
    case "table": {
      const at = Float64Array.from(lens.table, (row) => row[0]);
      const length = new MonotoneCubic(
        at,
        Float64Array.from(lens.table, (row) => row[1]),
      );
      return (w) => 1 / length.value(Math.min(at[at.length - 1], Math.max(at[0], w)));
    }
    case "singlet": {
      const glass = glassOf(lens.glass, "path.lensGlass");
      return (w) => glass.index(w) - 1;
    }
    case "achromat": {
      const crown = glassOf(lens.crown, "path.lensCrown");
      const flint = glassOf(lens.flint, "path.lensFlint");
      const share = (crown.index(BLUE) - crown.index(RED)) / (flint.index(BLUE) - flint.index(RED));
      const power = (w: number): number => crown.index(w) - 1 - share * (flint.index(w) - 1);
      if (!(power(sharp) > 0)) {
        throw new Refusal({
          code: "no-achromat",
          field: "path.lensFlint",
          received: `${lens.flint} beside the crown ${lens.crown}`,
          expected: "a flint that disperses more than the crown, so that a converging lens is left",
        });
      }
      return power;
    }
  }
}

/** Relative change of each lens's focal length at a vacuum wavelength, m; undefined where no lens changes. */
export function lensShifts(path: PathInput): ((lens: LensName, wavelength: number) => number) | undefined {
  const { lens } = path;
  if (lens === undefined || (lens.kind === "thin" && lens.shift === 0)) return undefined;
  const shift = focalShift(lens, path.sharpAt ?? path.centreWavelength);
  return (name, wavelength) =>
    (lens.kind === "table" && lens.which !== "all" && lens.which !== name) ||
    (name === "collimator" && path.mirrorCollimator === true)
      ? 0
      : shift(wavelength);
}

/** Full width of the blur by colour on the sensor, m, at each wavelength: the foot of a beam with straight edges. */
export interface FocusBlur {
  readonly height: Float64Array;
  readonly width: Float64Array;
}

/**
 * Blur of wavelengths out of focus, by geometrical optics: lenses shift their focus by their share, shifts add along the light with the
 * square of what magnifies them, and the beam's cone cuts the sensor in a rectangle. Along the width only the two lenses after the plumb slit count.
 * @returns undefined where no wavelength is blurred by more than `least`, m
 */
export function focusBlur(path: PathInput, wavelengths: Float64Array, least: number): FocusBlur | undefined {
  const shift = lensShifts(path);
  if (shift === undefined) return undefined;
  const {
    collimatorFocalLength: f1,
    focalLength: f2,
    secondCollimatorFocalLength: f3,
    cameraFocalLength: f4,
  } = path;
  const relay = f4 / f3;
  const cone = 1 / (f2 * relay);
  const height = new Float64Array(wavelengths.length);
  const width = new Float64Array(wavelengths.length);
  let most = 0;
  for (let i = 0; i < wavelengths.length; i++) {
    const w = wavelengths[i];
    const behind = f4 * shift("camera", w) + f3 * relay * relay * shift("second-collimator", w);
    const before = f2 * shift("focusing", w) + f1 * pow(f2 / f1, 2) * shift("collimator", w);
    height[i] = Math.abs(before * relay * relay + behind) * path.beamSize * cone;
    width[i] = Math.abs(behind) * path.beamWidth * cone;
    most = Math.max(most, height[i], width[i]);
  }
  return most > least ? { height, width } : undefined;
}
