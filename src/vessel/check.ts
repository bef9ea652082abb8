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
  if (input.contents === undefined) range("vessel.gasPressure", input.gasPressure, 0, 1e8, "Pa");
  if (input.windowTemperature !== undefined)
    range("vessel.windowTemperature", input.windowTemperature, 50, 3000, "K");
  if (input.gasFilledAt !== undefined) range("vessel.gasFilledAt", input.gasFilledAt, 50, 3000, "K");
  if (input.charge !== undefined && !(input.charge >= 0 && input.charge < Infinity)) {
    refuse("vessel.charge", `${input.charge} kg`, "a mass of 0 kg or more");
  }
}

function range(field: string, value: number, above: number, upTo: number, unit: string): void {
  if (value > above && value <= upTo) return;
  refuse(field, `${value} ${unit}`, `a value above ${above} ${unit} and up to ${upTo} ${unit}`);
}

function refuse(field: string, received: string, expected: string): never {
  throw new Refusal({ code: "out-of-range", field, received, expected });
}
