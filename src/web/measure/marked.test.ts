import { describe, expect, it } from "vitest";
import { parseMarks } from "../../reading/index.ts";
import {
  areaOfStruck,
  curveMarks,
  documentOf,
  foundMarks,
  type Marked,
  openedMarks,
  strike,
  untouched,
  withoutBox,
} from "./marked.ts";
import type { PhotoReading } from "./protocol.ts";

/** A reading whose trace is lit but for a gap about column 100. */
const columns = Array.from({ length: 200 }, (_, k) => k + 0.5);
const reading = {
  trace: {
    column: Float64Array.from(columns),
    row: Float64Array.from(columns, (c) => 50 + c / 10),
    uncertainty: new Float64Array(200).fill(0.25),
    light: Float64Array.from(columns, (c) => (Math.abs(c - 100) < 20 ? 0.1 : 1)),
  },
  lines: [{ label: "", wavelength: 766.7009e-9, column: 100 }],
  turned: undefined,
} as unknown as PhotoReading;
const found = foundMarks(reading);
const change = (was: Marked, id: number, to: object): Marked => ({
  ...was,
  marks: was.marks.map((mark) => (mark.id === id ? { ...mark, ...to } : mark)),
});

describe("marks on a photograph", () => {
  it("are taken from the lit trace and from the lines, and are no file as long as nobody touches them", () => {
    expect(found.marks.filter(({ line }) => line === undefined)).toHaveLength(16);
    for (const { column, line } of found.marks)
      if (line === undefined) expect(Math.abs(column - 100)).toBeGreaterThanOrEqual(20);
    expect(untouched(found)).toBe(true);
    expect(documentOf(found)).toBeUndefined();
  });

  it("a moved mark is a point with the place it came from, and none once it is back", () => {
    const { column, row } = found.marks[3];
    const moved = change(found, 4, { column: column + 2, row: row - 3 });
    expect(documentOf(moved)).toEqual({ points: [{ column: column + 2, row: row - 3, from: column }] });
    expect(documentOf(change(moved, 4, { column, row }))).toBeUndefined();
  });

  it("an added mark is a point without one; struck it is nothing", () => {
    const mark = { id: 50, column: 60, row: 40, struck: false, line: undefined };
    const added = { ...found, marks: [...found.marks, mark], next: 51 };
    expect(documentOf(added)).toEqual({ points: [{ column: 60, row: 40 }] });
    const struck = strike(added, 50);
    expect(documentOf(struck)).toBeUndefined();
    expect(struck.boxes).toEqual([]);
    expect(untouched(struck)).toBe(false);
    expect(documentOf(strike(struck, 50))).toEqual(documentOf(added));
  });

  it("a struck mark leaves out its own column and the rows of its uncertainty, a pixel to either side at least", () => {
    expect(areaOfStruck({ column: 30.7, row: 53.5, uncertainty: 0.2 })).toEqual({
      columns: [30, 30],
      rows: [52, 54],
    });
    expect(areaOfStruck({ column: 30.7, row: 53.5, uncertainty: 4 }).rows).toEqual([49, 57]);
    const struck = strike(found, 2);
    const { column, row } = found.marks[1];
    expect(documentOf(struck)).toEqual({ struck: [areaOfStruck({ column, row, uncertainty: 0.25 })] });
    expect(curveMarks(struck)).toHaveLength(15);
    // Either way it comes back: by the mark, by its area.
    expect(documentOf(strike(struck, 2))).toBeUndefined();
    const back = withoutBox(struck, struck.boxes[0].id);
    expect(documentOf(back)).toBeUndefined();
    expect(curveMarks(back)).toHaveLength(16);
  });

  it("a line's mark stays out of the file, moved or struck", () => {
    expect(documentOf(strike(change(found, 17, { column: 90 }), 17))).toBeUndefined();
  });

  it("an area takes the marks in it out of the reading by hand", () => {
    const area = { columns: [0, 40], rows: [0, 199] } as const;
    const left = found.marks.filter(({ line, column }) => line === undefined && column >= 41);
    const boxes = [{ id: 90, kind: "struck", area }] as const;
    expect(curveMarks({ ...found, boxes })).toEqual(left);
    expect(left.length).toBeLessThan(16);
    // The region is where one looks, not what is left out.
    expect(curveMarks({ ...found, boxes: [{ id: 90, kind: "region", area }] })).toHaveLength(16);
  });

  it("go through their file and back: the same file again, and the moved and struck ones not there twice", () => {
    const moved = change(found, 4, { column: found.marks[3].column + 2, uncertainty: 0.5 });
    const struck = strike(moved, 2);
    const scale = [
      { id: 91, column: 20, wavelength: "766.7009 nm vacuum", uncertainty: 0.2 },
      { id: 92, column: 180, wavelength: "769.8965 nm air" },
    ];
    const region = { id: 93, kind: "region", area: { columns: [5, 190], rows: [3, 160] } } as const;
    const all: Marked = { ...struck, scale, boxes: [...struck.boxes, region], turn: "left", next: 94 };
    const file = documentOf(all);
    if (file === undefined) throw new Error("nothing was marked");
    const marks = parseMarks(file);
    expect(marks.turn).toBe("left");
    expect(marks.scale?.[0].wavelength).toBeCloseTo(766.7009e-9, 15);
    const opened = openedMarks(found, { marks, wavelengths: scale.map(({ wavelength }) => wavelength) });
    expect(documentOf(opened)).toEqual(file);
    expect(opened.marks).toHaveLength(17);
    expect(opened.marks.find(({ id }) => id === 2)?.struck).toBe(true);
    expect(new Set([...opened.marks, ...opened.boxes, ...opened.scale].map(({ id }) => id)).size).toBe(21);
  });
});
