/** What a lens leaves of the light: its faces, and the absorption in its glass. */
import { exp, pow } from "../numerics/elementary/index.ts";
import type { LensInput } from "./api.ts";
import { fresnelTransmission } from "./fresnel.ts";
import { glassOf } from "./glass.ts";
import { darkeningOf } from "./glass-absorption.ts";

/** Glass of a lens of which nothing is said. */
const CROWN = "517642";
/** Edge of a lens, m, and its free width over the beam's: common practice, no source. */
const EDGE = 2e-3;
const WIDER = 1.5;

/**
 * Thickness in the middle of a lens: its edge, and what a sphere adds over its half width r, r²/(2f(n − 1)) for thin lenses.
 * @param focalLength m
 * @param beam widest opening that the light takes there, m
 */
export function lensThickness(focalLength: number, beam: number, index: number): number {
  const half = (WIDER * beam) / 2;
  return EDGE + (half * half) / (2 * focalLength * (index - 1));
}

/** Share left by a single lens of this glass; light thrown back twice inside it is out of focus and counts as lost. */
export function plainLens(focalLength: number, beam: number, code = CROWN): (wavelength: number) => number {
  const glass = glassOf(code, "path.lensGlass");
  const darkening = darkeningOf(code);
  return (w) => {
    const n = glass.index(w);
    return pow(fresnelTransmission(1, n, 0), 2) * exp(-darkening(w) * lensThickness(focalLength, beam, n));
  };
}

/** Share left by one of the bench's lenses: two faces of a single glass, three of a cemented pair whose glasses are each taken as thick as the crown alone. */
export function benchLens(
  lens: LensInput | undefined,
  focalLength: number,
  beam: number,
): (wavelength: number) => number {
  if (lens?.kind === "singlet") return plainLens(focalLength, beam, lens.glass);
  if (lens?.kind !== "achromat") return plainLens(focalLength, beam);
  const crown = glassOf(lens.crown, "path.lensCrown");
  const flint = glassOf(lens.flint, "path.lensFlint");
  const [crownDark, flintDark] = [darkeningOf(lens.crown), darkeningOf(lens.flint)];
  return (w) => {
    const [c, f] = [crown.index(w), flint.index(w)];
    const faces = fresnelTransmission(1, c, 0) * fresnelTransmission(c, f, 0) * fresnelTransmission(1, f, 0);
    return faces * exp(-(crownDark(w) + flintDark(w)) * lensThickness(focalLength, beam, c));
  };
}
