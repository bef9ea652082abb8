/** Lamp lines named by a person: elements and single wavelengths. */
import { airToVacuum } from "../medium/index.ts";
import { parseQuantity } from "../quantity/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { LAMP_ELEMENTS, lampLines } from "../reference/index.ts";

/**
 * Vacuum wavelengths, m, ascending, of a list such as "Ar, Ne, 763.7208 nm vacuum, 435.83 nm air".
 * Elements bring all their stored lines; single lines must say "air" or "vacuum", 0.16 nm apart in the yellow.
 * @throws Refusal for an unknown lamp, a length without unit, or a wavelength that does not say which kind it is
 */
export function lampLinesFromNames(text: string, field = "lampLines"): number[] {
  const found = new Set<number>();
  const parts = text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
  for (const part of parts) {
    if (/^[a-z]{1,2}$/i.test(part)) {
      const symbol = part[0].toUpperCase() + part.slice(1).toLowerCase();
      for (const line of lampLines(symbol, field)) found.add(airToVacuum(line.airWavelength.value));
      continue;
    }
    const match = /^(.+?)\s+(air|vacuum|vac)$/i.exec(part);
    if (match === null)
      throw new Refusal({
        code: "lamp-line-unclear",
        field,
        received: `"${part}"`,
        expected: `a lamp (one of ${LAMP_ELEMENTS.join(", ")}) or a wavelength such as "435.83 nm air" or "763.7208 nm vacuum"`,
      });
    const length = parseQuantity(match[1], "m", field);
    found.add(match[2].toLowerCase() === "air" ? airToVacuum(length) : length);
  }
  if (found.size === 0)
    throw new Refusal({
      code: "no-lamp-lines-named",
      field,
      received: `"${text}"`,
      expected: "at least one lamp or wavelength",
    });
  return [...found].sort((a, b) => a - b);
}
