/** What may be wrong with a photograph, each cause with the pixels that say so. */
import { CAUSES, diagnose } from "../../reading/index.ts";
import { openFrames } from "./open-frames.ts";
import type { DiagnoseRequest, EvidenceMark, SaidDiagnosis } from "./protocol.ts";

export async function diagnosePhotographs(request: DiagnoseRequest): Promise<SaidDiagnosis> {
  const { text, causes } = diagnose(await openFrames(request));
  return {
    text,
    causes: causes.map((cause) => ({
      title: CAUSES[cause.cause].title,
      weight: cause.weight,
      evidence: cause.evidence,
      remedy: cause.remedy,
      test: cause.group?.test,
      mark: cause.where === undefined ? undefined : markOf(cause.where),
    })),
  };
}

type Where = NonNullable<ReturnType<typeof diagnose>["causes"][number]["where"]>;

/** Pixels counted from 0, first and last, as a box whose edges are those of the pixels. */
function markOf({ frame, columns: [left, right], rows: [top, bottom] }: Where): EvidenceMark {
  return { frame, column: left, row: top, width: right - left + 1, height: bottom - top + 1 };
}
