/** Hand marks read in the worker, which keeps what does not change while they are moved. */
import { type HandReader, type HandReading, parseMarks, prepareHandMarks } from "../../reading/index.ts";
import { isObject, parseJsonObject } from "../../setup/index.ts";
import { openSetup } from "./open-frames.ts";
import type { MarksRequest, OpenedMarks, OpenMarksRequest } from "./protocol.ts";

let kept: { readonly key: string; readonly reader: HandReader } | undefined;

export function readMarks({ setup, columns, rows, marks, lines }: MarksRequest): HandReading {
  const key = JSON.stringify([setup, columns, rows]);
  if (kept?.key !== key) kept = { key, reader: prepareHandMarks(openSetup(setup), { columns, rows }) };
  return kept.reader(marks, lines);
}

/** @throws Refusal that names the file and the entry */
export async function openMarks({ file }: OpenMarksRequest): Promise<OpenedMarks> {
  const document = parseJsonObject(await file.text(), file.name);
  const { scale } = document;
  const texts = Array.isArray(scale) ? scale.map((mark) => isObject(mark) && mark["wavelength"]) : [];
  return { marks: parseMarks(document, file.name), wavelengths: texts.map(String) };
}
