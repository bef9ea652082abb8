/** What the faces and the glass of the vessel leave of the light: two windows of a tube, or the walls of a hollow prism. */
import { asin, cos, exp, pow, sin } from "../numerics/elementary/index.ts";
import type { PathInput } from "./api.ts";
import { fresnelTransmission } from "./fresnel.ts";
import { glassOf } from "./glass.ts";
import { darkeningOf } from "./glass-absorption.ts";

/** Both windows, or both walls: light thrown to and fro inside a plane plate is counted, (1 − R)/(1 + R); none where it is wedged or oblique. */
export function vesselShare(
  path: Pick<PathInput, "windowGlass" | "windowWedge" | "windowThickness" | "prismWalls">,
): (wavelength: number) => number {
  const { prismWalls, windowGlass = "fused-silica", windowWedge = 0, windowThickness = 0 } = path;
  if (prismWalls !== undefined) return wallShare(prismWalls);
  const glass = glassOf(windowGlass, "path.windowGlass");
  const darkening = darkeningOf(windowGlass);
  return (w) => {
    const r = 1 - fresnelTransmission(1, glass.index(w), 0);
    const faces = windowWedge === 0 ? (1 - r) / (1 + r) : pow(1 - r, 2);
    return faces * faces * exp(-2 * windowThickness * darkening(w));
  };
}

/** Air, wall, liquid, wall, air: Fresnel's equations at each face, absorption along the oblique way in each wall. */
function wallShare(walls: NonNullable<PathInput["prismWalls"]>): (wavelength: number) => number {
  const glass = glassOf(walls.glass, "vessel.wallGlass");
  const darkening = darkeningOf(walls.glass);
  return (w) => {
    const n = glass.index(w);
    // Light takes the same share with it whichever way it crosses a face.
    return [walls.incidence, walls.emergence].reduce((share, angle) => {
      const inside = asin(sin(Math.abs(angle)) / n);
      const faces =
        fresnelTransmission(1, n, Math.abs(angle)) * fresnelTransmission(n, walls.liquidIndex, inside);
      return share * faces * exp((-walls.thickness / cos(inside)) * darkening(w));
    }, 1);
  };
}
