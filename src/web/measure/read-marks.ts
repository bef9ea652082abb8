/** Hand marks read in the worker, which keeps what does not change while they are moved. */
import { type HandReader, type HandReading, prepareHandMarks } from "../../reading/index.ts";
import { openSetup } from "./open-frames.ts";
import type { MarksRequest } from "./protocol.ts";

let kept: { readonly key: string; readonly reader: HandReader } | undefined;

export function readMarks({ setup, columns, rows, marks, lines }: MarksRequest): HandReading {
  const key = JSON.stringify([setup, columns, rows]);
  if (kept?.key !== key) kept = { key, reader: prepareHandMarks(openSetup(setup), { columns, rows }) };
  return kept.reader(marks, lines);
}
