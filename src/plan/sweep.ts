/** Tables over parameters: a grid, lists, or points that fill a box evenly. Units are pure functions of (job, number). */
import { fromCoherent, parseQuantity, Refusal } from "../quantity/index.ts";
import { type JsonObject, overrideSetup, parseSetup } from "../setup/index.ts";
import { r2Point, SOBOL_DIMENSIONS, sobolPoint } from "./low-discrepancy.ts";
import { numericField, unitOf } from "./numbers.ts";
import { quickForecast } from "./quick.ts";
import { type Row, splitAt } from "./tolerance.ts";

export interface Range {
  readonly path: string;
  readonly unit: string;
  /** SI */
  readonly from: number;
  readonly to: number;
}

export type Axis =
  | { readonly kind: "list"; readonly path: string; readonly values: readonly string[] }
  | ({ readonly kind: "range"; readonly count: number | undefined } & Range);

export interface SweepJob {
  readonly kind: "sweep";
  readonly document: JsonObject;
  readonly paths: readonly string[];
  /** text of each value, points × paths */
  readonly points: readonly (readonly string[])[];
}

export type Filling = "grid" | "sobol" | "r2";

/** Most points of one sweep. */
export const MOST_POINTS = 1_000_000;

/**
 * "vessel.bottom=260..300 degC in 9" (a range, with how many values in a grid), or "medium.element=Na,K,Rb" (a list).
 * The unit of a range stands once, behind its end.
 */
export function parseAxis(text: string): Axis {
  const [path, value] = splitAt(
    text,
    "--over",
    '"vessel.bottom=260..300 degC in 9" or "medium.element=Na,K,Rb"',
  );
  const match = /^(.+?)\.\.(.+?)(?:\s+in\s+(\d+))?$/.exec(value);
  if (match === null) {
    const values = value.split(",").map((each) => each.trim());
    return { kind: "list", path, values };
  }
  const count = match[3] === undefined ? undefined : Number(match[3]);
  if (count !== undefined && !(count >= 2 && count <= MOST_POINTS)) {
    throw new Refusal({
      code: "bad-count",
      field: "--over",
      received: `${count} values`,
      expected: `2 to ${MOST_POINTS} values`,
    });
  }
  return { kind: "range", ...parseRange(path, match[1], match[2], "--over"), count };
}

/** Ends of a range in SI; the unit may stand at the end only. */
export function parseRange(path: string, from: string, to: string, option: string): Range {
  const field = numericField(path, option);
  const unit = unitOf(field);
  const read = (text: string): number =>
    field.kind === "quantity" ? parseQuantity(text, unit, path) : Number(text);
  const written = /[^\d.\s+eE-].*$/.exec(to.trim().replace(/^[-+]?[\d.]+(?:[eE][-+]?\d+)?/, ""))?.[0] ?? "";
  const bare = /^[-+]?[\d.]+(?:[eE][-+]?\d+)?$/.test(from.trim());
  const low = read(bare && field.kind === "quantity" ? `${from.trim()} ${written}` : from.trim());
  const high = read(to.trim());
  if (!(low < high)) {
    throw new Refusal({
      code: "bad-range",
      field: option,
      received: `${path} from ${from.trim()} to ${to.trim()}`,
      expected: "a range that rises",
    });
  }
  return { path, unit, from: low, to: high };
}

/** Units a person writes at the bench that take a plain factor: values in them are rounded to six digits. */
const PLAIN_UNITS: ReadonlySet<string> = new Set(["mm", "um", "nm", "mbar", "ms", "g", "mrad", "deg", "MHz"]);

/** Text of an SI value as a setup file takes it: in the field's own unit, rounded as finely as anyone sets it. */
export function settingText({ path, unit }: Range, value: number): string {
  const field = numericField(path, path);
  if (field.kind === "integer") return String(Math.round(value));
  if (field.kind === "number") return String(value);
  if (field.show === "degC") return `${Number((value - 273.15).toFixed(3))} degC`;
  if (PLAIN_UNITS.has(field.show))
    return `${Number(fromCoherent(value, field.show).toPrecision(6))} ${field.show}`;
  return `${value} ${unit}`;
}

/** The SI value that `settingText` says, rounding included. */
export function settingValue(range: Range, value: number): number {
  const text = settingText(range, value);
  return numericField(range.path, range.path).kind === "quantity"
    ? parseQuantity(text, range.unit, range.path)
    : Number(text);
}

/**
 * @param filling "grid": every combination, ranges in their stated number of values (default 5); "sobol" and "r2":
 *   `points` points that fill the ranges evenly, repeated for every combination of the lists
 */
export function sweepJob(
  document: JsonObject,
  axes: readonly Axis[],
  filling: Filling,
  points: number,
): SweepJob {
  if (axes.length === 0)
    throw new Refusal({
      code: "nothing-to-sweep",
      field: "--over",
      received: "nothing",
      expected: "at least one parameter to go over",
    });
  const ranges = axes.filter((axis) => axis.kind === "range");
  const columns = axes.map((axis) =>
    axis.kind === "list" ? axis.values : filling === "grid" ? evenly(axis, axis.count ?? 5) : [""],
  );
  const total =
    columns.reduce((product, values) => product * values.length, 1) * (filling === "grid" ? 1 : points);
  if (!(total >= 1 && total <= MOST_POINTS)) {
    throw new Refusal({
      code: "too-many-points",
      field: "--over",
      received: `${total} points`,
      expected: `1 to ${MOST_POINTS} points`,
    });
  }
  if (filling === "sobol" && ranges.length > SOBOL_DIMENSIONS) {
    throw new Refusal({
      code: "too-many-ranges",
      field: "--by",
      received: `sobol over ${ranges.length} ranges`,
      expected: `at most ${SOBOL_DIMENSIONS} ranges`,
      hint: "r2 takes more",
    });
  }
  const combined = columns.reduce<string[][]>(
    (rows, values) => rows.flatMap((row) => values.map((value) => [...row, value])),
    [[]],
  );
  const filled =
    filling === "grid"
      ? combined
      : combined.flatMap((row) =>
          Array.from({ length: points }, (_, i) =>
            fill(
              row,
              axes,
              filling === "sobol"
                ? sobolPoint(i, Math.max(1, ranges.length))
                : r2Point(i, Math.max(1, ranges.length)),
            ),
          ),
        );
  const job: SweepJob = { kind: "sweep", document, paths: axes.map((axis) => axis.path), points: filled };
  overrideSetup(document, settingsOf(job, 0)); // refuses an unknown field before any work
  return job;
}

function evenly(range: Range, count: number): string[] {
  return Array.from({ length: count }, (_, i) =>
    settingText(range, range.from + ((range.to - range.from) * i) / (count - 1)),
  );
}

function fill(row: readonly string[], axes: readonly Axis[], point: Float64Array): string[] {
  let d = 0;
  return axes.map((axis, i) =>
    axis.kind === "list" ? row[i] : settingText(axis, axis.from + (axis.to - axis.from) * point[d++]),
  );
}

export function settingsOf(job: SweepJob, index: number): string[] {
  return job.paths.map((path, i) => `${path}=${job.points[index][i]}`);
}

/** The work of one unit; the returned function may be called in any order. */
export function sweepRunner(job: SweepJob): (index: number) => Row {
  const quick = quickForecast();
  return (index) => {
    try {
      const {
        line: _line,
        reading: _reading,
        ...values
      } = quick(parseSetup(overrideSetup(job.document, settingsOf(job, index))));
      return { values };
    } catch (error) {
      if (error instanceof Refusal) return { refused: error.message };
      throw error;
    }
  };
}
