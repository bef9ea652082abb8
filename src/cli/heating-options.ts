/** Options of commands that follow a heater in time: a minute of the warm-up, later steps of the power. */
import { parseQuantity, Refusal } from "../quantity/index.ts";
import type { PowerStep } from "../vessel/index.ts";

/** "--minutes 12.5" as a number; its range is checked where the wall is computed. */
export function minutesOf(text: string): number {
  const minutes = Number(text);
  if (text.trim() !== "" && Number.isFinite(minutes)) return minutes;
  throw new Refusal({
    code: "bad-value",
    field: "--minutes",
    received: `"${text}"`,
    expected: "minutes from 0 to 1440",
  });
}

/** "--power '40 min=80 W'", repeatable: from that time on the heater takes that power; 0 W switches it off. */
export function powerSteps(texts: readonly string[]): readonly PowerStep[] {
  return texts.map((text) => {
    const at = text.indexOf("=");
    if (at < 1) {
      throw new Refusal({
        code: "bad-value",
        field: "--power",
        received: `"${text}"`,
        expected: 'a time and a power, such as "40 min=80 W"',
      });
    }
    const from = parseQuantity(text.slice(0, at).trim(), "s", "--power");
    const power = parseQuantity(text.slice(at + 1).trim(), "W", "--power");
    if (from >= 0 && from <= 86400 && power >= 0 && power <= 1e5) return { from, power };
    throw new Refusal({
      code: "out-of-range",
      field: "--power",
      received: `"${text}"`,
      expected: "a time from 0 to 24 h and a power from 0 W to 100 kW",
    });
  });
}
