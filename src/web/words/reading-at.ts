/** What the line under the pointer reads, in words and numbers. */
import type { SightCurve } from "../worker/protocol.ts";
import { bend, minus, nanometres, percent, significant } from "./number.ts";

export function linesAt(curve: SightCurve, i: number, medium: "air" | "vacuum"): readonly string[] {
  const wavelength = (medium === "air" ? curve.wavelengthAir : curve.wavelength)[i] ?? 0;
  return [
    `${nanometres(wavelength)} ${medium}`,
    `n \u2212 1 = ${significant(curve.refractivity[i] ?? 0, 2)} · bends ${bend(curve.deflection[i] ?? 0)}`,
    `${percent(curve.transmission[i] ?? 0)} passes · absorbs ${significant(curve.absorption[i] ?? 0, 2)}\u202f/m`,
    `phase ${phase(curve.phaseVelocity[i] ?? 1)} · group ${group(curve.groupIndex[i] ?? 1)}`,
  ];
}

/** Phase velocity with its digits in groups of three: "1.000 003 7 c". */
function phase(value: number): string {
  const [whole = "", decimals = ""] = value.toFixed(7).split(".");
  return `${whole}.${decimals.replace(/(\d{3})(?=\d)/g, "$1\u202f")}\u202fc`;
}

/** Group velocity; where the group index passes zero there is none to give. */
function group(index: number): string {
  if (Math.abs(index) < 1e-3) return "not defined";
  return `${minus((1 / index).toPrecision(3))}\u202fc`;
}
