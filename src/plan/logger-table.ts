/**
 * What a data logger writes, as columns over time: text with commas, semicolons or tabs, with or without a line of names,
 * times as seconds, minutes, hours, a clock or a date, decimal point or comma, temperatures in °C, K or °F.
 */
import { Refusal } from "../quantity/index.ts";

export interface LoggerTable {
  /** names of the columns of values, as written or "column 2" */
  readonly names: readonly string[];
  /** s since the first row, ascending */
  readonly time: readonly number[];
  /** by column; K, null where the cell holds no number */
  readonly columns: readonly (readonly (number | null)[])[];
  /** column that is likely the metal, the top, a window: index, or null */
  readonly likely: Readonly<Record<Place, number | null>>;
}

export const PLACES = ["bottom", "top", "ends"] as const;
export type Place = (typeof PLACES)[number];

/** Rows that a table may have at most: a reading a second for a day. */
const MOST_ROWS = 90_000;

const NAMED: Readonly<Record<Place, RegExp>> = {
  bottom: /metal|bottom|below|well|pool|heater|hot/i,
  top: /top|above|upper|cold wall/i,
  ends: /window|flange|end/i,
};

/** @param field what the sentence of a refusal names, e.g. the file's name */
export function loggerTable(text: string, field: string): LoggerTable {
  const lines = text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\n|\r/)
    .filter((line) => line.trim() !== "" && !line.trimStart().startsWith("#"));
  const refuse = (received: string, expected: string): never => {
    throw new Refusal({ code: "not-a-log", field, received, expected });
  };
  if (lines.length > MOST_ROWS + 50) refuse(`${lines.length} lines`, `at most ${MOST_ROWS}`);
  const separator = separatorOf(lines);
  const cells = lines.map((line) => split(line, separator));
  const first = cells.findIndex((row) => row.length > 1 && timeOf(row[0], separator) !== undefined);
  if (first < 0)
    return refuse(
      lines.length === 0 ? "nothing" : `"${(lines[0] ?? "").slice(0, 60)}"`,
      "rows that begin with a time, then temperatures, separated by commas, semicolons or tabs",
    );
  const rows = cells.slice(first).filter((row) => row.length > 1 && timeOf(row[0], separator) !== undefined);
  if (rows.length < 2) refuse("one row", "two rows or more");
  const header = first > 0 ? (cells[first - 1] ?? []) : [];
  const width = Math.max(...rows.map((row) => row.length)) - 1;
  const names = Array.from({ length: width }, (_, c) => header[c + 1]?.trim() || `column ${c + 2}`);
  const time = timesOf(
    rows.map((row) => timeOf(row[0], separator) ?? { seconds: 0, clock: false }),
    header[0] ?? "",
  );
  const late = time.findIndex((t, i) => i > 0 && !(t > time[i - 1]));
  if (late > 0) refuse(`row ${late + 1} no later than the one before it`, "times that go forward");
  const columns = names.map((name, c) =>
    rows.map((row) => kelvin(numberOf(row[c + 1] ?? "", separator), name)),
  );
  return { names, time, columns, likely: likely(names, columns) };
}

function separatorOf(lines: readonly string[]): string {
  const counts = [";", "\t", ","].map((each) => ({
    each,
    count: lines.slice(0, 20).reduce((sum, line) => sum + line.split(each).length - 1, 0),
  }));
  // A semicolon or a tab decides: with them a comma is a decimal comma.
  return counts.find(({ count }) => count > 0)?.each ?? ",";
}

function split(line: string, separator: string): string[] {
  const found: string[] = [];
  let cell = "";
  let quoted = false;
  for (const character of line) {
    if (character === '"') quoted = !quoted;
    else if (character === separator && !quoted) {
      found.push(cell.trim());
      cell = "";
    } else cell += character;
  }
  found.push(cell.trim());
  return found;
}

function numberOf(text: string, separator: string): number | undefined {
  const plain = (separator === "," ? text : text.replace(",", ".")).replace(/\s*(?:°?[CFK]|degC)$/, "");
  if (!/^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(plain)) return undefined;
  return Number(plain);
}

interface Time {
  readonly seconds: number;
  /** a time of day without a date, which may pass midnight */
  readonly clock: boolean;
}

const DAY = 86_400;

function timeOf(text: string | undefined, separator: string): Time | undefined {
  if (text === undefined) return undefined;
  const number = numberOf(text, separator);
  if (number !== undefined) return { seconds: number, clock: false };
  const clock = /(?:^|[T\s])(\d{1,3}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*(?:Z|[+-]\d{2}:?\d{2})?$/.exec(text);
  if (clock === null) return undefined;
  const seconds =
    Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number((clock[3] ?? "0").replace(",", "."));
  const iso = /^(\d{4})[-/](\d{1,2})[-/](\d{1,2})[T\s]/.exec(text);
  const dotted = /^(\d{1,2})\.(\d{1,2})\.(\d{4})\s/.exec(text);
  const date = iso ?? (dotted === null ? null : [dotted[0], dotted[3], dotted[2], dotted[1]]);
  if (date === null) return { seconds, clock: true };
  return {
    seconds: Date.UTC(Number(date[1]), Number(date[2]) - 1, Number(date[3])) / 1000 + seconds,
    clock: false,
  };
}

/** Seconds since the first; plain numbers in the unit that the header names, seconds by default. */
function timesOf(times: readonly Time[], header: string): number[] {
  const unit = /\bmin|minute/i.test(header)
    ? 60
    : /\bh\b|hour/i.test(header)
      ? 3600
      : /\bms\b/i.test(header)
        ? 1e-3
        : 1;
  const plain = times.every((time) => !time.clock && time.seconds < 1e8);
  let days = 0;
  return times.map(({ seconds, clock }, i) => {
    if (clock && i > 0 && seconds + days < times[i - 1].seconds + days - DAY / 2) days += DAY;
    return (seconds + days - times[0].seconds) * (plain ? unit : 1);
  });
}

/** In K; °C unless the name says otherwise. */
function kelvin(value: number | undefined, name: string): number | null {
  if (value === undefined) return null;
  if (/[[(,/\s]°?\s*F\b|°F|fahrenheit/i.test(name)) return ((value - 32) * 5) / 9 + 273.15;
  if (/[[(,/\s]K\b|kelvin/.test(name)) return value;
  return value + 273.15;
}

function likely(
  names: readonly string[],
  columns: readonly (readonly (number | null)[])[],
): Record<Place, number | null> {
  const free = names.map((_, c) => c).filter((c) => columns[c].some((each) => each !== null));
  const take = (c: number | undefined): number | null => {
    if (c === undefined) return null;
    free.splice(free.indexOf(c), 1);
    return c;
  };
  const named: Record<Place, number | null> = { bottom: null, top: null, ends: null };
  for (const place of PLACES) named[place] = take(free.find((c) => NAMED[place].test(names[c])));
  // Without names the order of the sheet's own log: metal, top, window.
  const unnamed = PLACES.every((place) => named[place] === null);
  return unnamed ? { bottom: take(free[0]), top: take(free[0]), ends: take(free[0]) } : named;
}
