/** Thermocouples in a setup file: by name, each "angle from straight down, place along the tube, temperature". */
import { parseQuantity, Refusal } from "../quantity/index.ts";
import type { Thermocouple } from "../vessel/index.ts";
import type { JsonObject } from "./json.ts";

/** The form of one, for messages. */
export const PLACE_FORM =
  '"0 deg, 0 mm, 285 degC": angle from straight down, place from mid-length, temperature';

/** @throws Refusal naming the thermocouple whose text is not of that form, or fewer than two of them */
export function readPlaces(path: string, places: JsonObject): readonly Thermocouple[] {
  const found = Object.entries(places).map(([name, text]) => {
    const field = `${path}.${name}`;
    const parts = typeof text === "string" ? text.split(",").map((part) => part.trim()) : [];
    if (parts.length !== 3) {
      throw new Refusal({
        code: "bad-value",
        field,
        received: JSON.stringify(text),
        expected: `text such as ${PLACE_FORM}`,
      });
    }
    return {
      name,
      angle: parseQuantity(parts[0], "rad", field),
      z: parseQuantity(parts[1], "m", field),
      temperature: parseQuantity(parts[2], "K", field),
    };
  });
  if (found.length >= 2) return found;
  throw new Refusal({
    code: "too-few-thermocouples",
    field: path,
    received: String(found.length),
    expected: "at least two thermocouples",
  });
}
