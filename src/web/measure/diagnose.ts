/** What may be wrong with a photograph, each cause with the place on the photograph where it shows. */
import {
  CAUSES,
  type CauseCode,
  diagnose,
  type Glance,
  prepareGlance,
  type ReadingInput,
} from "../../reading/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { openFrames } from "./open-frames.ts";
import type { DiagnoseRequest, EvidenceMark, SaidDiagnosis } from "./protocol.ts";

export async function diagnosePhotographs(request: DiagnoseRequest): Promise<SaidDiagnosis> {
  const input = await openFrames(request);
  const { text, causes } = diagnose(input);
  const glance = glanceAt(input);
  return {
    text,
    causes: causes.map((cause) => ({
      title: CAUSES[cause.cause].title,
      weight: cause.weight,
      evidence: cause.evidence,
      remedy: cause.remedy,
      test: cause.group?.test,
      marks: placesOf(cause.cause, glance, input),
    })),
  };
}

/** Where the curve and its lines stand; undefined where even a quick look finds none. */
function glanceAt({ setup, cold, dark, hot }: ReadingInput): Glance | undefined {
  try {
    return prepareGlance(setup, cold, dark)(hot);
  } catch (fault) {
    if (fault instanceof Refusal) return undefined;
    throw fault;
  }
}

/** Causes by where they show. */
const ALONG_THE_LINE: readonly CauseCode[] = [
  "level-slit-tilted",
  "camera-rolled",
  "line-drifted",
  "level-slit-wide",
  "out-of-focus",
  "overexposed",
  "smoke",
  "window-fogged",
];
const AT_THE_GAPS: readonly CauseCode[] = [
  "vapour-thin",
  "vapour-dense",
  "gas-pressure-high",
  "wrong-lines",
  "tube-cold",
];
const ON_THE_BRANCHES: readonly CauseCode[] = ["upside-down", "gradient-weak"];

function placesOf(code: CauseCode, glance: Glance | undefined, { hot }: ReadingInput): EvidenceMark[] {
  if (glance === undefined || code === "as-predicted") return [];
  const { columns, rows } = hot;
  const box = (from: number, to: number, seen: (column: number) => boolean): EvidenceMark | undefined => {
    let [top, bottom] = [rows, 0];
    for (let c = Math.max(0, Math.floor(from)); c < Math.min(columns, Math.ceil(to)); c++) {
      if (!seen(c)) continue;
      top = Math.min(top, glance.row[c]);
      bottom = Math.max(bottom, glance.row[c]);
    }
    const edge = 0.02 * rows;
    return bottom < top
      ? undefined
      : { column: from, row: top - edge, width: to - from, height: bottom - top + 2 * edge };
  };
  const lit = (c: number): boolean => glance.transmission[c] > 0.5;
  const marks =
    code === "stray-light"
      ? [{ column: 0, row: 0, width: columns, height: 0.15 * rows }]
      : ALONG_THE_LINE.includes(code)
        ? [box(0, columns, (c) => glance.transmission[c] > 0.9)]
        : AT_THE_GAPS.includes(code)
          ? glance.lines.map(({ column }) => gapBox(glance, column, columns, rows))
          : ON_THE_BRANCHES.includes(code)
            ? glance.lines.flatMap(({ column }) => {
                const reach = 0.06 * columns;
                return [box(column - reach, column, lit), box(column, column + reach, lit)];
              })
            : [];
  return marks.filter((mark) => mark !== undefined);
}

/** From where half the light is gone on one side to where it is back on the other, over the picture's whole height. */
function gapBox(glance: Glance, column: number, columns: number, rows: number): EvidenceMark {
  let [left, right] = [Math.floor(column), Math.floor(column)];
  while (left > 0 && glance.transmission[left] < 0.5) left--;
  while (right < columns - 1 && glance.transmission[right] < 0.5) right++;
  return { column: left, row: 0.05 * rows, width: right - left + 1, height: 0.9 * rows };
}
