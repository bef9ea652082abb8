/** Share of the light that a disperser passes. */
import type { DisperserInput } from "./api.ts";
import { directVision } from "./direct-vision.ts";
import { leastDeviationTrain } from "./disperser.ts";
import { passThrough } from "./fresnel.ts";
import { glassOf } from "./glass.ts";

/**
 * Glass: Fresnel at every face, cement taken as index-matched, no absorption. Grating: the stated efficiency. A scale or deviations known from elsewhere: 1.
 * @param wavelength vacuum wavelength, m
 */
export function disperserTransmission(
  disperser: DisperserInput,
  wavelength: number,
  gratingEfficiency: number,
): number {
  if (disperser.kind === "linear" || disperser.kind === "table") return 1;
  if (disperser.kind === "grating") return disperser.efficiency ?? gratingEfficiency;
  const turn = disperser.turn ?? 0;
  if (disperser.kind === "prism") {
    const glass = glassOf(disperser.glass, "path.disperser.glass");
    const train = leastDeviationTrain(disperser.apex, glass.index(disperser.leastAt));
    return passThrough(train, [glass.index(wavelength)], -turn).transmission;
  }
  const crown = glassOf(disperser.crown, "path.disperser.crown");
  const flint = glassOf(disperser.flint, "path.disperser.flint");
  const { train } = directVision(
    crown.index(disperser.undeviated),
    flint.index(disperser.undeviated),
    disperser.flintApex,
    disperser.elements,
    disperser.trains,
  );
  return passThrough(train, [crown.index(wavelength), flint.index(wavelength)], -turn).transmission;
}
