import type { Box, Mark } from "./marked.ts";

/** A mark in words, for those who hear it: "mark 3 at column 512.0, row 230.4, struck". */
export function formatMark(mark: Mark | undefined, at: number): string {
  if (mark === undefined) return "no mark";
  const struck = mark.struck ? ", struck" : "";
  const column = `column ${mark.column.toFixed(1)}`;
  return mark.line === undefined
    ? `mark ${at + 1} at ${column}, row ${mark.row.toFixed(1)}${struck}`
    : `line ${(mark.line * 1e9).toFixed(2)} nm at ${column}${struck}`;
}

/** "left out: columns 120–120, rows 80–83" */
export function formatBox({ kind, area: { columns, rows } }: Box): string {
  return `${kind === "region" ? "region" : "left out"}: columns ${columns.join("–")}, rows ${rows.join("–")}`;
}
