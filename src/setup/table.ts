/** Tables of one's own measurements, as they stand in a setup file. */
import { parseQuantity, Refusal } from "../quantity/index.ts";
import { expectation } from "./expectation.ts";
import type { TableField } from "./field-kinds.ts";
import type { Json } from "./json.ts";

const MOST_ROWS = 10000;

/**
 * Rows in SI units, from an array of rows or its text: JSON, or rows parted by semicolons or line ends with commas within (how a table is typed or pasted).
 * Refuses what is no such table, rows of different length, values out of range, and wavelengths that do not ascend.
 */
export function readTable(field: TableField, value: Json): readonly (readonly number[])[] {
  const wrong = (received: string): Refusal =>
    new Refusal({ code: "bad-table", field: field.path, received, expected: expectation(field) });
  const rows = typeof value === "string" ? parsed(value) : value;
  if (!Array.isArray(rows)) throw wrong(JSON.stringify(value).slice(0, 80));
  const list = rows as readonly Json[];
  if (list.length < 2 || list.length > MOST_ROWS) throw wrong(`${list.length} rows`);
  const out = list.map((row, i): readonly number[] => {
    const said = `row ${i + 1}, ${JSON.stringify(row).slice(0, 60)}`;
    if (!Array.isArray(row)) throw wrong(said);
    const [wavelength, ...rest] = row as readonly Json[];
    if (typeof wavelength !== "string" || !field.columns.includes(rest.length)) throw wrong(said);
    const values = rest.map((cell) => {
      const number =
        field.unit === "1"
          ? cell
          : typeof cell === "string"
            ? parseQuantity(cell, field.unit, field.path)
            : undefined;
      if (typeof number !== "number" || !(number >= field.min && number <= field.max)) throw wrong(said);
      return number;
    });
    return [parseQuantity(wavelength, "m", field.path), ...values];
  });
  out.forEach((row, i) => {
    if (row.length !== out[0].length)
      throw wrong(`row ${i + 1} with ${row.length} entries, others with ${out[0].length}`);
    if (i > 0 && !(row[0] > out[i - 1][0]))
      throw wrong(`row ${i + 1}, whose wavelength is not above the one before`);
  });
  return out;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text
      .split(/[;\n]/)
      .filter((row) => row.trim() !== "")
      .map((row) =>
        row.split(",").map((cell, i) => {
          const number = Number(cell);
          return i > 0 && Number.isFinite(number) ? number : cell.trim();
        }),
      );
  }
}
