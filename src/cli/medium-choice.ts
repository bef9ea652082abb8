/** The medium that a person names in words, such as "glass 517642" or "Ar 5000 Pa at 300 K". */
import { airMedium, type Dye, gasMedium, glassMedium, type Medium, waterMedium } from "../medium/index.ts";
import { parseQuantity, Refusal } from "../quantity/index.ts";
import { BOLTZMANN } from "../reference/index.ts";
import { dyeFrom, oscillatorsFrom } from "./medium-file.ts";

const FIELD = "--medium";

/** Air where no state is said: 15 degC and one atmosphere, the standard air of spectroscopy. */
const STANDARD_AIR = { temperature: 288.15, pressure: 101325 };

export async function mediumNamed(text: string): Promise<Medium | Dye> {
  const [kind = "", ...more] = text.trim().split(/\s+/);
  const rest = more.join(" ");
  if (kind === "water" && rest === "") return waterMedium();
  if (kind === "air") return airMedium(rest === "" ? STANDARD_AIR : stateOf(text, rest));
  if (rest !== "") {
    if (kind === "glass") return glassMedium(rest);
    if (kind === "oscillators") return oscillatorsFrom(rest);
    if (kind === "dye") return dyeFrom(rest);
    if (/^[A-Z][a-z]?\d?$/.test(kind)) {
      const { temperature, pressure } = stateOf(text, rest);
      return gasMedium(kind, pressure / (BOLTZMANN * temperature));
    }
  }
  throw unknown(text);
}

function stateOf(text: string, state: string): { readonly temperature: number; readonly pressure: number } {
  const [pressure, temperature, ...more] = state.split(" at ");
  if (temperature === undefined || more.length > 0) throw unknown(text);
  const found = {
    pressure: parseQuantity(pressure, "Pa", FIELD),
    temperature: parseQuantity(temperature, "K", FIELD),
  };
  if (found.pressure >= 0 && found.temperature > 0) return found;
  throw unknown(text);
}

function unknown(text: string): Refusal {
  return new Refusal({
    code: "unknown-medium",
    field: FIELD,
    received: JSON.stringify(text),
    expected:
      'water, air, "air 90000 Pa at 293 K", "glass 517642", "Ar 5000 Pa at 300 K", "oscillators FILE" or "dye FILE"',
  });
}
