/** The parts of a tube's outside, and what each gives off. */
import { insulationMaterial } from "./materials.ts";
import type { ShellInput } from "./shell-api.ts";
import { insulatedFlux, lossFlux } from "./shell-loss.ts";

/** Heated strip, rest of the heated length, everything beyond it. */
export type Part = 0 | 1 | 2;
export const STRIP: Part = 0;
export const TOP: Part = 1;
export const ENDS: Part = 2;

/** Loss of a part at a wall temperature in K, W/m² of outer wall; `liquid` is the liquid's mean temperature, K. */
export function partFlux(
  input: ShellInput,
  part: Part,
  wall: number,
  emissivity: number,
  liquid: number,
): number {
  const diameter = input.bore + 2 * input.thickness;
  if (part === STRIP) {
    return input.insulation === undefined
      ? lossFlux({ kind: "still-air" }, diameter, emissivity, wall, input.room, 0)
      : insulatedFlux(
          insulationMaterial(input.insulation.material),
          input.insulation.thickness,
          diameter,
          wall,
          input.room,
        );
  }
  const cooling = part === TOP ? input.topCooling : input.endCooling;
  return lossFlux(cooling, diameter, emissivity, wall, input.room, liquid);
}
