/** What a person adds by hand: points of the trace, places to leave out, two marks for the wavelength scale. All of it stays in the reading. */
import { type Json, type JsonObject, isObject } from "../setup/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { backgroundOf } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";
import { alongAt, type Geometry, heightOnRow } from "./geometry.ts";
import { lampLinesFromNames } from "./lamp-names.ts";
import type { RoughTrace } from "./rough-trace.ts";

/** A part of the picture: columns and rows from the first to the last pixel, counted from 0. */
export interface Area {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
}

export interface MarkedPoint {
  /** pixels; the first pixel spans 0 to 1 */
  readonly column: number;
  readonly row: number;
  /** standard uncertainty of the row, pixels, default 1 */
  readonly uncertainty?: number;
  /** column from which the point was moved here: the traced one there no longer counts */
  readonly from?: number;
}

export interface ScaleMark {
  /** on the middle row, pixels from the left edge */
  readonly column: number;
  /** vacuum, m */
  readonly wavelength: number;
  /** standard uncertainty of the column, pixels, default 0.5 */
  readonly uncertainty?: number;
}

export interface HandMarks {
  /** trace points added or moved */
  readonly points?: readonly MarkedPoint[];
  /** left out of trace and fit */
  readonly struck?: readonly Area[];
  /** two places of known wavelength, where no lamp gives the scale */
  readonly scale?: readonly [ScaleMark, ScaleMark];
  /** nothing outside takes part */
  readonly region?: Area;
}

const POINT_UNCERTAINTY = 1;
const SCALE_UNCERTAINTY = 0.5;

/**
 * A light frame with what lies outside the region, or was struck, darkened to the background and marked as unusable.
 * Columns outside the region keep their light, so that they do not look like gaps: `markedTrace` leaves them out.
 */
export function markedLight(frame: LightFrame, marks: HandMarks | undefined): LightFrame {
  if (marks?.region === undefined && marks?.struck === undefined) return frame;
  const { columns, rows } = frame;
  const light = frame.light.slice();
  const saturated = frame.saturated.slice();
  const level = backgroundOf(frame).level;
  const dark = (area: Area, inside: boolean): void => {
    for (let r = 0; r < rows; r++)
      for (let c = 0; c < columns; c++) {
        const inRows = r >= area.rows[0] && r <= area.rows[1];
        const inColumns = c >= area.columns[0] && c <= area.columns[1];
        if ((inRows && inColumns) !== inside) continue;
        if (inside || !inRows) light[r * columns + c] = level;
        saturated[r * columns + c] = 1;
      }
  };
  if (marks.region !== undefined) dark(marks.region, false);
  for (const area of marks.struck ?? []) dark(area, true);
  return { ...frame, light, saturated };
}

/**
 * The trace with the hand's points in it and without what was struck; columns that are not to be used get all their light back.
 * @param reference light without vapour per column, in the unit of `trace.light`
 */
export function markedTrace(
  trace: RoughTrace,
  reference: Float64Array,
  geometry: Geometry,
  marks: HandMarks | undefined,
): RoughTrace {
  if (marks === undefined) return trace;
  const { columns } = geometry;
  const height = trace.height.slice();
  const sigma = trace.sigma.slice();
  const light = trace.light.slice();
  const slotOf = (column: number, row: number): number =>
    Math.floor(alongAt(geometry, column, row) + columns / 2);
  const drop = (k: number): void => {
    if (!(k >= 0 && k < columns)) return;
    sigma[k] = Number.POSITIVE_INFINITY;
    light[k] = Math.max(reference[k], 0);
  };
  for (let k = 0; k < columns; k++) {
    const out = marks.region !== undefined && (k < marks.region.columns[0] || k > marks.region.columns[1]);
    if (out) drop(k);
  }
  for (const area of marks.struck ?? [])
    for (let c = Math.max(0, area.columns[0]); c <= Math.min(columns - 1, area.columns[1]); c++) drop(c);
  for (const point of marks.points ?? []) {
    if (point.from !== undefined) sigma[slotOf(point.from, point.row)] = Number.POSITIVE_INFINITY;
    const k = slotOf(point.column, point.row);
    if (!(k >= 0 && k < columns)) continue;
    height[k] = heightOnRow(geometry, k + 0.5 - columns / 2, point.row);
    sigma[k] = point.uncertainty ?? POINT_UNCERTAINTY;
    light[k] = Math.max(light[k], 0.02 * Math.max(reference[k], 0));
  }
  return { ...trace, height, sigma, light };
}

/** @throws Refusal where a region or a struck area does not lie in the picture */
export function checkMarks(marks: HandMarks | undefined, size: Pick<LightFrame, "columns" | "rows">): void {
  const named: (readonly [string, Area])[] = [
    ...(marks?.region === undefined ? [] : [["region", marks.region] as const]),
    ...(marks?.struck ?? []).map((area, k) => [`struck area ${k + 1}`, area] as const),
  ];
  for (const [field, { columns, rows }] of named)
    if (columns[1] >= size.columns || rows[1] >= size.rows)
      throw wrong(
        field,
        `columns ${columns.join("–")}, rows ${rows.join("–")}`,
        `an area in the picture, columns 0–${size.columns - 1}, rows 0–${size.rows - 1}`,
      );
}

/** Standard uncertainty of a distance on the hand's scale, share of it. */
export function scaleUncertainty([a, b]: readonly [ScaleMark, ScaleMark]): number {
  return (
    Math.hypot(a.uncertainty ?? SCALE_UNCERTAINTY, b.uncertainty ?? SCALE_UNCERTAINTY) /
    Math.abs(b.column - a.column)
  );
}

/** The same marks on the picture mirrored, left for right. */
export function mirroredMarks(marks: HandMarks, columns: number): HandMarks {
  const area = (a: Area): Area => ({
    ...a,
    columns: [columns - 1 - a.columns[1], columns - 1 - a.columns[0]],
  });
  const { points, struck, scale, region } = marks;
  return {
    ...(points === undefined
      ? {}
      : {
          points: points.map(({ from, ...p }) => ({
            ...p,
            column: columns - p.column,
            ...(from === undefined ? {} : { from: columns - from }),
          })),
        }),
    ...(struck === undefined ? {} : { struck: struck.map(area) }),
    ...(scale === undefined
      ? {}
      : {
          scale: scale.map((m) => ({ ...m, column: columns - m.column })) as unknown as [
            ScaleMark,
            ScaleMark,
          ],
        }),
    ...(region === undefined ? {} : { region: area(region) }),
  };
}

/**
 * Marks from a JSON document: {"points": [{"column", "row", "uncertainty"?, "from"?}], "struck": [{"columns": [a, b], "rows": [c, d]}],
 * "scale": [{"column", "wavelength": "766.7009 nm vacuum"}, …two], "region": {"columns", "rows"}}.
 * @throws Refusal that names the entry
 */
export function parseMarks(document: JsonObject, name = "marks"): HandMarks {
  for (const key of Object.keys(document))
    if (!["points", "struck", "scale", "region"].includes(key))
      throw wrong(`${name} ${key}`, "an unknown entry", "one of points, struck, scale, region");
  const { points, struck, scale, region } = document;
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
  };
}

function areaOf(value: Json, field: string): Area {
  const { columns, rows } = entry(value, field);
  const span = (v: Json | undefined, part: string): [number, number] => {
    const ends = list(v ?? null, `${field} ${part}`).map((end) => finite(end, `${field} ${part}`));
    if (ends.length !== 2 || !(ends[0] >= 0 && ends[1] > ends[0]))
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
