/** Why a picture does not look as foretold: causes ranked by what the picture says, each with its remedy at the bench. */
import { type Frame, turned } from "../picture/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { type VapourStage, vapourStage, metalOf } from "../setup/index.ts";
import type { ReadingInput } from "./api.ts";
import { type CauseCode, type CauseGroup, CAUSES, GROUPS } from "./diagnose-causes.ts";
import { FEWEST, type FrameSigns, frameSigns } from "./diagnose-frames.ts";
import { GOOD_DAY, type Signs } from "./diagnose-good-day.ts";
import { signsOf } from "./diagnose-signs.ts";
import { signsOfRefusal } from "./diagnose-unfitted.ts";
import { type Evidence, weighCauses } from "./diagnose-weigh.ts";
import { type Where, whereOf } from "./diagnose-where.ts";
import { fitEitherWay, type Held } from "./diagnose-sides.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { foreignGap } from "./foreign-gap.ts";

export interface DiagnosisInput extends ReadingInput {
  /** three or more hot frames of the same bench, of which `hot` is the mean: what changes from one to the next is smoke, convection or warm air */
  readonly frames?: readonly Frame[];
}

export interface Cause {
  /** one of CAUSE_CODES, published and stable */
  readonly cause: CauseCode;
  /** share of belief, 0…1; the weights of a diagnosis sum to 1 */
  readonly weight: number;
  readonly evidence: string;
  readonly remedy: string;
  /** the pixels that say so; none where nothing is wrong or nothing could be fitted */
  readonly where?: Where;
  /** causes that these frames cannot part from it, and the test at the bench that does */
  readonly group?: CauseGroup;
}

export interface Diagnosis {
  /** best first; causes below 1 % are left out */
  readonly causes: readonly Cause[];
  /** the first cause in one sentence */
  readonly text: string;
}

/**
 * Compares a picture with what its setup foretells. Cold and lamp frames sharpen the answer: without the cold frame
 * nothing is said of slit, focus, smoke and drift; without the lamp a leaning plumb slit cannot be told from a roll;
 * convection and warm air need several frames.
 * @param foretold the setup's vapour where it is already at hand
 * @throws Refusal where the frame is not a crossed-prism picture at all
 */
export function diagnose(input: DiagnosisInput, foretold: VapourStage = vapourStage(input.setup)): Diagnosis {
  metalOf(input.setup, "a diagnosis");
  const { evidence, fitted } = examine(input, foretold);
  const known = evidence.filter((e) => e.weight >= 0.01);
  const total = known.reduce((sum, e) => sum + e.weight, 0);
  const causes = known.map(({ group, ...e }): Cause => {
    const where = fitted === null ? undefined : whereOf(e.cause, fitted);
    return {
      ...e,
      weight: e.weight / total,
      remedy: CAUSES[e.cause].remedy,
      ...(where === undefined ? {} : { where }),
      ...(group === undefined ? {} : { group: GROUPS[group] }),
    };
  });
  const [first] = causes;
  return { causes, text: `${CAUSES[first.cause].title}: ${first.evidence}.` };
}

function examine(
  input: DiagnosisInput,
  foretold: VapourStage,
): { readonly evidence: Evidence[]; readonly fitted: FittedPicture | null } {
  const several = (input.frames?.length ?? 0) >= FEWEST ? (input.frames ?? []) : [];
  try {
    // One frame of several is sharp where their mean is smeared by what sways.
    const held = fitEitherWay(several.length > 0 ? { ...input, hot: several[0], meanOf: 1 } : input);
    const signs = {
      ...withFrames(
        withForeign(signsOf(held.fitted, foretold), held),
        frameSigns(held.fitted, held.mirrored ? several.map((frame) => turned(frame, "mirror")) : several),
      ),
      mirrored: held.mirrored,
    };
    return { evidence: weighCauses(signs), fitted: held.mirrored ? null : held.fitted };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { evidence: weighCauses(signsOfRefusal(error, input)), fitted: null };
  }
}

/** Where other lines are in view, what was fitted is a model of something else and says nothing. */
function withForeign(signs: Signs, { fitted, mirrored }: Held): Signs {
  const gap = foreignGap(fitted);
  if (gap === null) return signs;
  const foreign = ((mirrored ? -1 : 1) * gap.along) / fitted.hot.columns + 0.5;
  return {
    ...signs,
    foreign,
    columns: 0,
    apart: 0,
    inverted: false,
    loss: 0,
    stripes: 0,
    stray: 0,
    drift: 0,
  };
}

/** Signs of the mean of several frames: those of the fitted one, moved by how the others differ from it. */
function withFrames(signs: Signs, frames: FrameSigns | null): Signs {
  if (frames === null) return signs;
  const size = Math.log(Math.max(0.1, 1 + frames.size));
  return {
    ...signs,
    columns: signs.columns + size / 2 / GOOD_DAY.columns,
    apart: signs.apart - size / GOOD_DAY.apart,
    loss: signs.loss === 0 ? 0 : frames.loss / GOOD_DAY.loss,
    drift: signs.drift === 0 ? 0 : signs.drift + frames.offset / GOOD_DAY.drift,
    frames: frames.change,
  };
}
