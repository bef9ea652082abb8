/**
 * Is it worth building, and what will spoil it: findings about a forecast, each with its number, its threshold and the
 * source of the threshold, and what would mend it. Pure; cautions about harm to people are in cautions.ts.
 */
import type { Forecast } from "../setup/index.ts";
import { curveFindings, inFrame } from "./curve-findings.ts";
import type { Finding } from "./finding.ts";
import { lightFindings } from "./light-findings.ts";
import { rayFindings } from "./ray-findings.ts";
import { solutionFindings } from "./solution-findings.ts";
import { vesselFindings } from "./vessel-findings.ts";

const WEIGHT = { stop: 0, mind: 1, fine: 2 } as const;

/** Findings in the order of their weight: stop, mind, fine; within a weight curve, light, tube. */
export function check(forecast: Forecast): readonly Finding[] {
  const { vapour } = forecast;
  const findings =
    vapour.solution === undefined
      ? [
          ...curveFindings(forecast),
          ...rayFindings(forecast),
          ...lightFindings(forecast),
          ...vesselFindings(forecast),
        ]
      : [...solutionFindings(forecast, vapour), ...inFrame(forecast), ...lightFindings(forecast)];
  return findings.sort((a, b) => WEIGHT[a.level] - WEIGHT[b.level]);
}

export interface Verdict {
  /** the heaviest level among the findings that decide */
  readonly level: Finding["level"];
  /** code of the finding that decides, "fine" where none does */
  readonly code: string;
  /** one sentence a lecturer would say before building */
  readonly text: string;
}

/** Asks for thought, but is true of nearly every tube or of an unfinished setup: it does not decide the verdict. */
const NEVER_DECIDES: ReadonlySet<string> = new Set([
  "fog-at-the-ends",
  "window-not-stated",
  "tube-not-stated",
]);

const ABOUT_THE_PICTURE = ["curve-height", "curve-low", "too-thin", "no-line"];

/**
 * The forecast in one sentence: how high the curve stands, then the heaviest finding with its remedy. It speaks of the
 * picture and the tube only; it never says that a setup is safe.
 */
export function verdict(findings: readonly Finding[]): Verdict {
  const picture = findings.find((finding) => ABOUT_THE_PICTURE.includes(finding.code));
  const heaviest = findings.find(
    (finding) => finding.level !== "fine" && finding !== picture && !NEVER_DECIDES.has(finding.code),
  );
  const deciding =
    heaviest !== undefined && (picture === undefined || WEIGHT[heaviest.level] <= WEIGHT[picture.level])
      ? heaviest
      : picture;
  const level = deciding?.level ?? "fine";
  const parts = [picture === undefined ? "" : clause(picture)];
  if (heaviest !== undefined) parts.push(lower(clause(heaviest)));
  else {
    const pair = findings.find((finding) => finding.code === "pair-apart");
    if (pair !== undefined) parts.push(lower(clause(pair)));
  }
  const said = parts.filter((part) => part !== "").join("; ");
  return {
    level,
    code: level === "fine" ? "fine" : (deciding?.code ?? "fine"),
    text: `${said[0]?.toUpperCase() ?? ""}${said.slice(1)}.`,
  };
}

/** What is found, without its explanation, and what to do: "the pair is not resolved: halve the plumb slit". */
function clause({ sentence, remedy }: Finding): string {
  const found = sentence.replace(/\.$/, "").split(": ")[0];
  return remedy === undefined ? found : `${found}: ${remedy.text}`;
}

/** A capital that begins a sentence only; names of elements and |χ| stay. */
function lower(sentence: string): string {
  return /^(?:The|A|An|At|No|Only|Two|Hot|These|What|Convection|Toward|Vapour|Pumped|Self)\b/.test(sentence)
    ? `${sentence[0].toLowerCase()}${sentence.slice(1)}`
    : sentence;
}
