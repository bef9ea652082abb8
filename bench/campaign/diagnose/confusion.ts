/** Which cause was named first for which: counts, shares and the table of who was taken for whom. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type CauseCode, type DiagnosisInput, diagnose } from "../../../src/reading/index.ts";
import { overrideSetup, parseJsonObject, parseSetup, type Setup } from "../../../src/setup/index.ts";
import type { CaseOfDay } from "./days.ts";
import type { Nominal } from "./draw.ts";

export interface Verdict {
  readonly truth: CauseCode;
  readonly degree: CaseOfDay["degree"];
  readonly by: "forecast" | "outside";
  readonly seed: number;
  /** "refused" where the program would not look at it */
  readonly named: CauseCode | "refused";
  /** named itself, or in the named group */
  readonly right: boolean;
  readonly evidence: string;
}

/** The invented bench of examples/potassium-grating.json on a small sensor, so that hundreds of pictures can be fitted. */
export function benchSetup(extra: readonly string[] = []): Setup {
  const path = fileURLToPath(new URL("../../../examples/potassium-grating.json", import.meta.url));
  const document = parseJsonObject(readFileSync(path, "utf8"), "potassium-grating.json");
  return parseSetup(
    overrideSetup(document, ["camera.pixel=9 um", "camera.columns=400", "camera.rows=230", ...extra]),
  );
}

/** What the outside renderer can do: single lines, a gas width by hand. */
export const OUTSIDE = ["medium.structure=merged", "medium.gasWidth=300 MHz"];

export function judge(
  nominal: Nominal,
  { cause, degree, seed }: CaseOfDay,
  by: Verdict["by"],
  input: DiagnosisInput,
): Verdict {
  const base = { truth: cause, degree, by, seed };
  try {
    const [first] = diagnose(input, nominal.vapour).causes;
    const right = first.cause === cause || first.group?.members.includes(cause) === true;
    return { ...base, named: first.cause, right, evidence: first.evidence };
  } catch (error) {
    return { ...base, named: "refused", right: false, evidence: String(error) };
  }
}

const share = (list: readonly Verdict[]): number =>
  list.length === 0 ? Number.NaN : list.filter((v) => v.right).length / list.length;
const percent = (list: readonly Verdict[]): string =>
  list.length === 0 ? "–" : `${(100 * share(list)).toFixed(0)} % of ${list.length}`;

export interface Score {
  readonly faults: number;
  readonly good: number;
  readonly worst: { readonly cause: CauseCode; readonly share: number };
  readonly outside: number;
}

export function scoreOf(verdicts: readonly Verdict[]): Score {
  const faulty = verdicts.filter((v) => v.degree !== "good");
  const causes = [...new Set(faulty.map((v) => v.truth))];
  const worst = causes
    .map((cause) => ({ cause, share: share(faulty.filter((v) => v.truth === cause)) }))
    .reduce((a, b) => (b.share < a.share ? b : a), { cause: "as-predicted", share: 1 });
  return {
    faults: share(faulty),
    good: share(verdicts.filter((v) => v.degree === "good")),
    worst,
    outside: share(verdicts.filter((v) => v.by === "outside")),
  };
}

/** The whole result as Markdown. */
export function report(verdicts: readonly Verdict[]): string {
  const faulty = verdicts.filter((v) => v.degree !== "good");
  const good = verdicts.filter((v) => v.degree === "good");
  const of = (by: Verdict["by"], list: readonly Verdict[]): Verdict[] => list.filter((v) => v.by === by);
  const truths = [...new Set(verdicts.map((v) => v.truth))];
  const named = [
    ...truths,
    ...new Set(verdicts.map((v) => v.named).filter((n) => !truths.includes(n as CauseCode))),
  ];
  const rows = truths.map((truth) => {
    const mine = verdicts.filter((v) => v.truth === truth);
    const cell = (degree: Verdict["degree"]): string => percent(mine.filter((v) => v.degree === degree));
    const main =
      truth === "as-predicted"
        ? `– | – | ${cell("good")}`
        : `${cell("mild")} | ${cell("strong")} | ${percent(mine)}`;
    return `| ${truth} | ${main} | ${percent(of("outside", mine))} |`;
  });
  const matrix = truths.map((truth) => {
    const cells = named.map((n) => {
      const count = verdicts.filter((v) => v.truth === truth && v.named === n).length;
      return count === 0 ? "" : String(count);
    });
    return `| ${truth} | ${cells.join(" | ")} |`;
  });
  const wrong = verdicts.filter((v) => !v.right);
  return [
    `- Faulty pictures: true cause or its named group first in ${percent(faulty)} (drawn by the forecast ${percent(of("forecast", faulty))}, by the outside renderer ${percent(of("outside", faulty))}).`,
    `- Good pictures: "as predicted" for ${percent(good)} (forecast ${percent(of("forecast", good))}, outside ${percent(of("outside", good))}).`,
    "",
    "| cause | mild | strong | all | of these by the outside renderer |",
    "| --- | --- | --- | --- | --- |",
    ...rows,
    "",
    "Rows: what was done to the bench; columns: the first cause named (a named group counts as right above, so that off the diagonal does not always mean wrong).",
    "",
    `| | ${named.map((n, k) => `${k + 1} ${n}`).join(" | ")} |`,
    `| --- | ${named.map(() => "---:").join(" | ")} |`,
    ...matrix,
    "",
    wrong.length === 0 ? "None was wrong." : "The wrong ones:",
    "",
    ...wrong.map((v) => `- ${v.truth}, ${v.degree}, ${v.by}, seed ${v.seed}: ${v.named} (${v.evidence})`),
    "",
  ].join("\n");
}
