/** Why a picture does not look as foretold: causes ranked by what the picture says, each with its remedy at the bench. */
import { Refusal } from "../quantity/refusal.ts";
import type { ReadingInput } from "./api.ts";
import { CAUSES, type CauseCode, type Evidence, weighCauses } from "./diagnose-causes.ts";
import { signsOf } from "./diagnose-signs.ts";
import { fitPicture } from "./fit-picture.ts";

export interface Cause {
  /** one of CAUSE_CODES, published and stable */
  readonly cause: CauseCode;
  /** share of belief, 0…1; the weights of a diagnosis sum to 1 */
  readonly weight: number;
  readonly evidence: string;
  readonly remedy: string;
  /** causes that this picture alone cannot part from it, and the test at the bench that does */
  readonly group?: { readonly members: readonly CauseCode[]; readonly test: string };
}

export interface Diagnosis {
  /** best first; causes below 1 % are left out */
  readonly causes: readonly Cause[];
  /** the first cause in one sentence */
  readonly text: string;
}

/**
 * Compares a picture with what its setup foretells. Cold and lamp frames sharpen the answer: without the cold frame
 * nothing is said of slit, focus, smoke and drift; without the lamp a leaning plumb slit cannot be told from a roll.
 * @throws Refusal where the frame is not a crossed-prism picture at all
 */
export function diagnose(input: ReadingInput): Diagnosis {
  let evidence: Evidence[];
  try {
    evidence = weighCauses(signsOf(fitPicture(input)));
  } catch (error) {
    if (!(error instanceof Refusal) || error.record.code !== "no-gap") throw error;
    evidence = [{ cause: "tube-cold", weight: 1, evidence: "a bright level line without any dark gap" }];
  }
  const causes = evidence
    .filter((e) => e.weight >= 0.01)
    .map((e): Cause => {
      const { remedy, group } = CAUSES[e.cause];
      return { ...e, remedy, ...(group === undefined ? {} : { group }) };
    });
  const total = causes.reduce((sum, c) => sum + c.weight, 0);
  const shared = causes.map((c) => ({ ...c, weight: c.weight / total }));
  const [first] = shared;
  return { causes: shared, text: `${CAUSES[first.cause].title}: ${first.evidence}.` };
}
