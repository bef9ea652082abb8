/** What a person has marked on one photograph, and how it is kept in a file: the same file as `read --marks` takes. */
import type { Area, MarkedPoint } from "../../reading/index.ts";
import type { JsonObject } from "../../setup/index.ts";
import type { OpenedMarks, PhotoReading, QuarterTurn } from "./protocol.ts";

/** A point on the curve, or the place of a line (its row says nothing). */
export interface Mark extends MarkedPoint {
  /** stays the same while the mark is moved */
  readonly id: number;
  readonly struck: boolean;
  /** vacuum wavelength of the line, m; undefined for a point on the curve */
  readonly line: number | undefined;
  /** where it was found, with the standard uncertainty of its row; undefined for a point that was added */
  readonly found?: { readonly column: number; readonly row: number; readonly uncertainty: number };
}

/** Left out of the fit, or the only part that takes part. */
export interface Box {
  readonly id: number;
  readonly kind: "struck" | "region";
  readonly area: Area;
  /** the struck mark that it stands about */
  readonly of?: number;
}

/** A place of known wavelength. */
export interface ScalePoint {
  readonly id: number;
  readonly column: number;
  /** as it was written: "766.7009 nm vacuum" */
  readonly wavelength: string;
  readonly uncertainty?: number;
}

export interface Marked {
  readonly marks: readonly Mark[];
  readonly boxes: readonly Box[];
  /** none or two */
  readonly scale: readonly ScalePoint[];
  /** how the frames were turned before the marks were set */
  readonly turn?: QuarterTurn;
  /** true where a person said how to turn them, so that the next reading is told */
  readonly turnSaid?: boolean;
  /** next free id */
  readonly next: number;
}

export const UNMARKED: Marked = { marks: [], boxes: [], scale: [], next: 1 };

/** Marks taken from the trace at first. */
const FIRST_MARKS = 16;
/** Only where so much light is left. */
const LIT = 0.85;

/** Marks as the reading found them: evenly over the lit parts of the trace, and one on each line. */
export function foundMarks({ trace, lines, turned }: PhotoReading): Marked {
  const lit: number[] = [];
  for (let i = 0; i < trace.column.length; i++) if (trace.light[i] > LIT) lit.push(i);
  const points = Array.from({ length: Math.min(FIRST_MARKS, lit.length) }, (_, k) => {
    const i = lit[Math.floor(((k + 0.5) * lit.length) / FIRST_MARKS)] ?? 0;
    const found = { column: trace.column[i], row: trace.row[i], uncertainty: trace.uncertainty[i] };
    return { column: found.column, row: found.row, found, struck: false, line: undefined };
  });
  const places = lines.map(({ column, wavelength }) => {
    const found = { column, row: 0, uncertainty: 0 };
    return { column, row: 0, found, struck: false, line: wavelength };
  });
  const marks = [...points, ...places].map((mark, k) => ({ ...mark, id: k + 1 }));
  return { ...UNMARKED, marks, next: marks.length + 1, ...(turned === undefined ? {} : { turn: turned }) };
}

/**
 * The marks of a file in place of those set by hand before.
 * @param found marks as the reading found them; those that the file moves or strikes are not there twice
 */
export function openedMarks(found: Marked, { marks: file, wavelengths }: OpenedMarks): Marked {
  const { points = [], struck = [], scale = [], region, turn } = file;
  return laidOver(found, {
    points,
    struck,
    ...(region === undefined ? {} : { region }),
    scale: scale.map(({ column, uncertainty }, k) => ({
      column,
      wavelength: wavelengths[k] ?? "",
      ...(uncertainty === undefined ? {} : { uncertainty }),
    })),
    turn,
    turnSaid: found.turnSaid,
  });
}

/** What was marked on a photograph before its first reading, over what that reading found. */
export function marksAfterReading(found: Marked, before: Marked): Marked {
  const boxes = (kind: Box["kind"]): Area[] =>
    before.boxes.flatMap((box) => (box.kind === kind ? [box.area] : []));
  const [region] = boxes("region");
  return laidOver(found, {
    points: before.marks.filter(({ struck }) => !struck),
    struck: boxes("struck"),
    ...(region === undefined ? {} : { region }),
    scale: before.scale,
    turn: found.turn,
    turnSaid: before.turnSaid,
  });
}

interface Own {
  readonly points: readonly MarkedPoint[];
  readonly struck: readonly Area[];
  readonly region?: Area;
  readonly scale: readonly Omit<ScalePoint, "id">[];
  readonly turn: QuarterTurn | undefined;
  readonly turnSaid: boolean | undefined;
}

/** A hand's own marks beside those that were found; found ones that it moved or struck are not there twice. */
function laidOver(found: Marked, { points, struck, region, scale, turn, turnSaid }: Own): Marked {
  let { next } = found;
  const replaced = (mark: Mark): boolean =>
    points.some(
      ({ from }) => from !== undefined && mark.found !== undefined && same(from, mark.found.column),
    );
  let marks = found.marks.filter((mark) => !replaced(mark));
  const boxes: Box[] = [];
  for (const area of struck) {
    const about = marks.find(({ found: at }) => at !== undefined && sameArea(areaOfStruck(at), area));
    boxes.push({ id: next++, kind: "struck", area, ...(about === undefined ? {} : { of: about.id }) });
    marks = marks.map((mark) => (mark === about ? { ...mark, struck: true } : mark));
  }
  if (region !== undefined) boxes.push({ id: next++, kind: "region", area: region });
  const added = points.map((point): Mark => ({ ...point, id: next++, struck: false, line: undefined }));
  return {
    marks: [...marks, ...added],
    boxes,
    scale: scale.map((mark) => ({ ...mark, id: next++ })),
    next,
    ...(turn === undefined ? {} : { turn }),
    ...(turnSaid === undefined ? {} : { turnSaid }),
  };
}

/** Columns that a file wrote down and a reading found anew. */
const same = (a: number, b: number): boolean => Math.abs(a - b) < 0.5;
const sameArea = (a: Area, b: Area): boolean =>
  [0, 1].every((k) => a.columns[k] === b.columns[k] && a.rows[k] === b.rows[k]);

/** Marks on the curve that count in the reading by hand: neither struck nor in an area that is left out. */
export function curveMarks({ marks, boxes }: Marked): readonly Mark[] {
  const out = boxes.filter(({ kind }) => kind === "struck").map(({ area }) => area);
  const inside = ({ column, row }: Mark, { columns, rows }: Area): boolean =>
    column >= columns[0] && column < columns[1] + 1 && row >= rows[0] && row < rows[1] + 1;
  return marks.filter(
    (mark) => mark.line === undefined && !mark.struck && !out.some((area) => inside(mark, area)),
  );
}

/**
 * The area that a struck mark takes out of the fit: its own column, and the rows within its uncertainty (one pixel at least to either side).
 * A person makes it larger where more is amiss.
 */
export function areaOfStruck({ column, row, uncertainty }: NonNullable<Mark["found"]>): Area {
  const reach = Math.max(1, uncertainty);
  const at = Math.floor(column);
  return { columns: [at, at], rows: [Math.max(0, Math.floor(row - reach)), Math.floor(row + reach)] };
}

/** Takes a mark out of the curve, or back into it; one that was found leaves an area out of the fit. */
export function strike(was: Marked, id: number): Marked {
  const mark = was.marks.find((each) => each.id === id);
  if (mark === undefined) return was;
  const struck = !mark.struck;
  const marks = was.marks.map((each) => (each.id === id ? { ...each, struck } : each));
  if (mark.found === undefined || mark.line !== undefined) return { ...was, marks };
  const boxes = was.boxes.filter(({ of }) => of !== id);
  if (!struck) return { ...was, marks, boxes };
  const box: Box = { id: was.next, kind: "struck", area: areaOfStruck(mark.found), of: id };
  return { ...was, marks, boxes: [...boxes, box], next: was.next + 1 };
}

/** Takes an area away; the mark that it stood about counts again. */
export function withoutBox(was: Marked, id: number): Marked {
  const box = was.boxes.find((each) => each.id === id);
  return {
    ...was,
    boxes: was.boxes.filter((each) => each.id !== id),
    marks: was.marks.map((mark) => (mark.id === box?.of ? { ...mark, struck: false } : mark)),
  };
}

/** True where everything stands as a reading found it. */
export function untouched(marked: Marked): boolean {
  return documentOf(marked) === undefined && !marked.marks.some((mark) => mark.struck || moved(mark));
}

/** True for a mark that was added, or moved from where it was found. */
function moved({ found, column, row }: Mark): boolean {
  return found === undefined || found.column !== column || found.row !== row;
}

/**
 * The file of these marks, as docs/measuring.md describes it; marks left as they were found are not in it.
 * @returns undefined where nothing was marked
 */
export function documentOf(marked: Marked): JsonObject | undefined {
  const points = marked.marks
    .filter((mark) => mark.line === undefined && !mark.struck && moved(mark))
    .map(({ column, row, uncertainty, from, found }): JsonObject => {
      const origin = found?.column ?? from;
      return {
        column,
        row,
        ...(uncertainty === undefined ? {} : { uncertainty }),
        ...(origin === undefined ? {} : { from: origin }),
      };
    });
  const area = ({ columns, rows }: Area): JsonObject => ({ columns: [...columns], rows: [...rows] });
  const struck = marked.boxes.filter(({ kind }) => kind === "struck").map((box) => area(box.area));
  const region = marked.boxes.find(({ kind }) => kind === "region");
  const scale = marked.scale.map(
    ({ column, wavelength, uncertainty }): JsonObject => ({
      column,
      wavelength,
      ...(uncertainty === undefined ? {} : { uncertainty }),
    }),
  );
  const document: JsonObject = {
    ...(points.length === 0 ? {} : { points }),
    ...(struck.length === 0 ? {} : { struck }),
    ...(scale.length === 0 ? {} : { scale }),
    ...(region === undefined ? {} : { region: area(region.area) }),
  };
  if (Object.keys(document).length === 0 && marked.turnSaid !== true) return undefined;
  return { ...document, ...(marked.turn === undefined ? {} : { turn: marked.turn }) };
}
