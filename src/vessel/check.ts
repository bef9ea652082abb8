/** Says no to what is no tube. */
import { Refusal } from "../quantity/refusal.ts";
import type { VesselInput } from "./api.ts";

/** Refuses a vessel whose numbers contradict each other or lie where no tube is; names the first field at fault. */
export function checkVessel(input: VesselInput): void {
  const { wall } = input;
  range("vessel.bore", input.bore, 0, 1, "m");
  range("vessel.heatedLength", input.heatedLength, 0, 100, "m");
  range("vessel.length", input.length, 0, 100, "m");
  if (input.length < input.heatedLength) {
    refuse("vessel.length", `${input.length} m`, `at least the heated length, ${input.heatedLength} m`);
  }
  range("vessel.bottom", wall.bottom, 50, 3000, "K");
  range("vessel.top", wall.top, 50, 3000, "K");
  range("vessel.ends", wall.ends, 50, 3000, "K");
  range("vessel.hotStrip", wall.hotStrip, 0, 2 * Math.PI, "rad");
  checkWet(input);
  if (input.contents === undefined) range("vessel.gasPressure", input.gasPressure, 0, 1e8, "Pa");
  if (input.windowTemperature !== undefined)
    range("vessel.windowTemperature", input.windowTemperature, 50, 3000, "K");
  if (input.gasFilledAt !== undefined) range("vessel.gasFilledAt", input.gasFilledAt, 50, 3000, "K");
  if (input.charge !== undefined && !(input.charge >= 0 && input.charge < Infinity)) {
    refuse("vessel.charge", `${input.charge} kg`, "a mass of 0 kg or more");
  }
}

/** Refuses a wet part that is no part of the tube. */
function checkWet({ wet, length }: VesselInput): void {
  if (wet === undefined) return;
  if (wet.strip !== undefined && !(wet.strip > 0 && wet.strip < 2 * Math.PI))
    refuse("vessel.wetStrip", `${wet.strip} rad`, "an angle above 0 rad and below 2π rad");
  const from = wet.from ?? -length;
  const to = wet.to ?? length;
  const half = 0.5 * length;
  if (!(from < half)) refuse("vessel.wetFrom", `${from} m`, `a place before the end of the tube, ${half} m`);
  if (!(to > -half)) refuse("vessel.wetTo", `${to} m`, `a place behind the start of the tube, ${-half} m`);
  if (!(to - from >= 1e-4))
    refuse("vessel.wetTo", `${to} m`, `at least 0.1 mm beyond vessel.wetFrom, ${from} m`);
}

function range(field: string, value: number, above: number, upTo: number, unit: string): void {
  if (value > above && value <= upTo) return;
  refuse(field, `${value} ${unit}`, `a value above ${above} ${unit} and up to ${upTo} ${unit}`);
}

function refuse(field: string, received: string, expected: string): never {
  throw new Refusal({ code: "out-of-range", field, received, expected });
}
