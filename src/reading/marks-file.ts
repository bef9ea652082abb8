/** Marks set by hand as they are kept in a file: by the page, which saves and opens them, and by any editor. */
import { type Json, type JsonObject, isObject } from "../setup/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { lampLinesFromNames } from "./lamp-names.ts";
import type { Area, HandMarks, MarkedPoint, ScaleMark } from "./marks.ts";

/**
 * Marks from a JSON document: {"points": [{"column", "row", "uncertainty"?, "from"?}], "struck": [{"columns": [a, b], "rows": [c, d]}],
 * "scale": [{"column", "wavelength": "766.7009 nm vacuum"}, …two], "region": {"columns", "rows"}, "turn": "left"}.
 * Areas go from the first to the last pixel; a single column or row has both alike.
 * @throws Refusal that names the entry
 */
export function parseMarks(document: JsonObject, name = "marks"): HandMarks {
  for (const key of Object.keys(document))
    if (!["points", "struck", "scale", "region", "turn"].includes(key))
      throw wrong(`${name} ${key}`, "an unknown entry", "one of points, struck, scale, region, turn");
  const { points, struck, scale, region, turn } = document;
  if (turn !== undefined && turn !== "left" && turn !== "right")
    throw wrong(
      `${name} turn`,
      JSON.stringify(turn),
      '"left" or "right", as the frames were turned before the marks were set',
    );
  const marks = (scale === undefined ? [] : list(scale, `${name} scale`)).map((mark, k): ScaleMark => {
    const field = `${name} scale ${k + 1}`;
    const { column, wavelength, uncertainty } = entry(mark, field);
    if (typeof wavelength !== "string")
      throw wrong(
        `${field} wavelength`,
        JSON.stringify(wavelength) ?? "nothing",
        'text such as "766.7009 nm vacuum"',
      );
    const [vacuum] = lampLinesFromNames(wavelength, `${field} wavelength`);
    return {
      column: finite(column, `${field} column`),
      wavelength: vacuum,
      ...optional({ uncertainty }, field),
    };
  });
  if (scale !== undefined && (marks.length !== 2 || Math.abs(marks[0].column - marks[1].column) < 10))
    throw wrong(`${name} scale`, `${marks.length} marks`, "two marks at least 10 columns apart");
  return {
    ...(points === undefined
      ? {}
      : {
          points: list(points, `${name} points`).map((point, k): MarkedPoint => {
            const field = `${name} point ${k + 1}`;
            const { column, row, uncertainty, from } = entry(point, field);
            return {
              column: finite(column, `${field} column`),
              row: finite(row, `${field} row`),
              ...optional({ uncertainty, from }, field),
            };
          }),
        }),
    ...(struck === undefined
      ? {}
      : { struck: list(struck, `${name} struck`).map((a, k) => areaOf(a, `${name} struck ${k + 1}`)) }),
    ...(scale === undefined ? {} : { scale: [marks[0], marks[1]] as const }),
    ...(region === undefined ? {} : { region: areaOf(region, `${name} region`) }),
    ...(turn === undefined ? {} : { turn }),
  };
}

function areaOf(value: Json, field: string): Area {
  const { columns, rows } = entry(value, field);
  const span = (v: Json | undefined, part: string): [number, number] => {
    const ends = list(v ?? null, `${field} ${part}`).map((end) => finite(end, `${field} ${part}`));
    if (ends.length !== 2 || !(ends[0] >= 0 && ends[1] >= ends[0]))
      throw wrong(`${field} ${part}`, JSON.stringify(v), "first and last pixel, counted from 0");
    return [Math.round(ends[0]), Math.round(ends[1])];
  };
  return { columns: span(columns, "columns"), rows: span(rows, "rows") };
}

function optional<T extends string>(
  values: Readonly<Record<T, Json | undefined>>,
  field: string,
): Partial<Record<T, number>> {
  const out: Partial<Record<T, number>> = {};
  for (const key of Object.keys(values) as T[])
    if (values[key] !== undefined) out[key] = finite(values[key], `${field} ${key}`);
  return out;
}

function entry(value: Json, field: string): JsonObject {
  if (isObject(value)) return value;
  throw wrong(field, JSON.stringify(value), "an object");
}

function list(value: Json, field: string): readonly Json[] {
  if (Array.isArray(value)) return value as readonly Json[];
  throw wrong(field, JSON.stringify(value), "a list");
}

function finite(value: Json | undefined, field: string): number {
  if (typeof value === "number" && Number.isFinite(value)) return value;
  throw wrong(field, JSON.stringify(value ?? null), "a number of pixels");
}

function wrong(field: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "bad-marks", field, received, expected });
}
