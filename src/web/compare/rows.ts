/** What two setups and their forecasts differ in, as rows of a table. Pure. */
import { FIELDS } from "../../setup/fields.ts";
import { shown } from "../fields/written.ts";
import { type SetupText, valueAt } from "../state/setup-text.ts";
import { choiceWords } from "../words/elements.ts";
import { bend, nanometres, quantity, significant } from "../words/number.ts";
import type { Sight } from "../worker/protocol.ts";

export interface NumberRow {
  readonly name: string;
  readonly held: string;
  readonly open: string;
  /** bench over held, or "" where the ratio means nothing */
  readonly ratio: string;
}

const NONE = "none";

/** The numbers of both forecasts; lines in the order of their wavelengths. */
export function numbersOf(held: Sight, open: Sight): readonly NumberRow[] {
  const row = (
    name: string,
    of: (sight: Sight) => number | null | undefined,
    write: (value: number) => string,
    ratio = true,
  ): NumberRow => {
    const [a, b] = [of(held), of(open)];
    return {
      name,
      held: a === null || a === undefined ? NONE : write(a),
      open: b === null || b === undefined ? NONE : write(b),
      ratio: ratio && typeof a === "number" && typeof b === "number" && a !== 0 ? significant(b / a) : "",
    };
  };
  const lines = Math.max(held.lines.length, open.lines.length);
  return [
    ...Array.from({ length: lines }, (_, i) => [
      row(
        `line ${i + 1}, vacuum`,
        (sight) => sight.lines[i]?.wavelength,
        (v) => nanometres(v, 3),
        false,
      ),
      row(
        `half-gap ${i + 1}`,
        (sight) => sight.lines[i]?.halfGap,
        (v) => nanometres(v, 3),
      ),
      row(`bend at gap ${i + 1}'s edge`, (sight) => sight.lines[i]?.edgeDeflection, bend),
    ]).flat(),
    row(
      "column density",
      (sight) => sight.columnDensity,
      (v) => `${significant(v)}\u202fm^\u22122`,
    ),
    row(
      "column gradient",
      (sight) => sight.columnGradient,
      (v) => `${significant(v)}\u202fm^\u22123`,
    ),
    row(
      "gas temperature on the beam",
      (sight) => sight.onAxis.temperature,
      (v) => quantity(v, "K", "Cel"),
      false,
    ),
    row(
      "supersaturation",
      (sight) => sight.supersaturation,
      (v) => significant(v),
    ),
    row(
      "Rayleigh number",
      (sight) => sight.rayleigh,
      (v) => significant(v),
    ),
    row(
      "zero between the lines, vacuum",
      (sight) => sight.zeroBetweenLines,
      (v) => nanometres(v, 3),
      false,
    ),
  ];
}

/** Fields whose values differ, as they are written; a field that a file leaves out shows its usual value. */
export function differences(
  held: SetupText,
  open: SetupText,
): readonly { readonly label: string; readonly held: string; readonly open: string }[] {
  return FIELDS.flatMap((field) => {
    const preset = "default" in field ? field.default : undefined;
    const [a, b] = [held, open].map((setup) => String(valueAt(setup, field.path) ?? preset ?? "not given"));
    if (a === b || field.path === "notes") return [];
    const write = (text = ""): string => (field.kind === "quantity" ? shown(field, text) : choiceWords(text));
    return [{ label: field.label, held: write(a), open: write(b) }];
  });
}
