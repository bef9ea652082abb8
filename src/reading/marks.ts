/** What a person adds by hand: points of the trace, places to leave out, two marks for the wavelength scale. All of it stays in the reading. */
import { Refusal } from "../quantity/refusal.ts";
import { backgroundOf } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";
import { alongAt, columnOf, type Geometry, heightOnRow, turnedBy } from "./geometry.ts";
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
  /** how all frames are turned before these marks hold; none as they are stored */
  readonly turn?: "left" | "right";
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
  const turned = turnedBy(geometry);
  const slotOf = (column: number, row: number): number =>
    Math.floor(alongAt(turned, column, row) + columns / 2);
  const drop = (k: number): void => {
    if (!(k >= 0 && k < columns)) return;
    sigma[k] = Number.POSITIVE_INFINITY;
    light[k] = Math.max(reference[k], 0);
  };
  for (let k = 0; k < columns; k++) {
    const out = marks.region !== undefined && (k < marks.region.columns[0] || k > marks.region.columns[1]);
    if (out) drop(k);
  }
  for (const { columns: across, rows } of marks.struck ?? []) {
    // All wavelengths whose lines cross the area: its edges as the camera's roll has them.
    const ends = [rows[0], rows[1] + 1].flatMap((row) => [
      slotOf(across[0] + 0.5, row),
      slotOf(across[1] + 0.5, row),
    ]);
    for (let k = Math.min(...ends); k <= Math.max(...ends); k++) drop(k);
  }
  const points = marks.points ?? [];
  // Before any point is set: where one was moved away from, another may have been put.
  for (const { from } of points)
    if (from !== undefined) {
      const k = slotTracedAt(trace, geometry, from);
      if (k >= 0) sigma[k] = Number.POSITIVE_INFINITY;
    }
  for (const point of points) {
    const k = slotOf(point.column, point.row);
    if (!(k >= 0 && k < columns)) continue;
    height[k] = heightOnRow(geometry, k + 0.5 - columns / 2, point.row);
    sigma[k] = point.uncertainty ?? POINT_UNCERTAINTY;
    light[k] = Math.max(light[k], 0.02 * Math.max(reference[k], 0));
  }
  return { ...trace, height, sigma, light };
}

/** The slot whose traced point stands at a column of the picture, which with the camera rolled is not the one below it; −1 where there is none. */
function slotTracedAt(trace: RoughTrace, geometry: Geometry, column: number): number {
  let nearest = -1;
  let least = 1;
  for (let k = 0; k < geometry.columns; k++) {
    if (!Number.isFinite(trace.sigma[k])) continue;
    const off = Math.abs(columnOf(geometry, k + 0.5 - geometry.columns / 2, trace.height[k]) - column);
    if (off < least) [nearest, least] = [k, off];
  }
  return nearest;
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
  const { points, struck, scale, region, turn } = marks;
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
    ...(turn === undefined ? {} : { turn }),
  };
}

function wrong(field: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "bad-marks", field, received, expected });
}
