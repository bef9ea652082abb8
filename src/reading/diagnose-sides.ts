/** Which way round a picture goes with its setup, as far as a diagnosis must know: stored or mirrored, by rough fits. */
import { Refusal } from "../quantity/refusal.ts";
import type { ReadingInput } from "./api.ts";
import { type FittedPicture, fitPicture, fitUnless } from "./fit-picture.ts";
import { looksMirrored, mirroredInput } from "./orientation.ts";

/** |ln| of the strength ratio over its published value beyond which the sides are in doubt. */
const RATIO_DOUBT = 0.2;
/** χ² per degree of freedom beyond which a fit itself is. */
const POOR_FIT = 4;

export interface Held {
  readonly fitted: FittedPicture;
  readonly mirrored: boolean;
}

/** The fit of the picture as stored, or mirrored where that goes clearly better with its lines. */
export function fitEitherWay(given: ReadingInput): Held {
  // Signs count in tenths: a rough fit will do.
  const input = { ...given, options: { beamHeights: 3, maxIterations: 15, rough: true, ...given.options } };
  let stored: FittedPicture | null = null;
  let refusal: Refusal | null = null;
  try {
    stored = fitUnless(input, looksMirrored);
  } catch (error) {
    if (!(error instanceof Refusal) || error.record.code !== "lamp-lines-unknown") throw error;
    refusal = error;
  }
  if (stored !== null && !doubtful(stored)) return { fitted: stored, mirrored: false };
  const other = fitMirrored(input);
  if (other !== null && !doubtful(other) && stored === null) return { fitted: other, mirrored: true };
  if (refusal !== null) throw refusal;
  const fitted = stored ?? fitPicture(input);
  if (other !== null && isBetter(other, fitted)) return { fitted: other, mirrored: true };
  return { fitted, mirrored: false };
}

function fitMirrored(input: ReadingInput): FittedPicture | null {
  try {
    return fitPicture(mirroredInput(input));
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

function ratioFault({ fit, setting }: FittedPicture): number {
  return setting.anchors.length === 2 ? Math.abs(Math.log(fit.values["strength ratio"])) : 0;
}

/** A pair of clearly different strengths tells its sides by them; only where there is none must the fit itself be good. */
function doubtful(fitted: FittedPicture): boolean {
  const { solution, reducedChiSquare } = fitted.fit;
  const [a, b] = fitted.assignment.pairs.map((p) => p.line.strength);
  if (ratioFault(fitted) > RATIO_DOUBT) return true;
  if (fitted.setting.anchors.length === 2 && Math.abs(Math.log(a / b)) > 0.35) return false;
  return !solution.converged || solution.atBound.some(Boolean) || reducedChiSquare >= POOR_FIT;
}

function isBetter(mirrored: FittedPicture, stored: FittedPicture): boolean {
  if (!mirrored.fit.solution.converged) return false;
  const [chi, other] = [stored.fit.reducedChiSquare, mirrored.fit.reducedChiSquare];
  const gain = ratioFault(stored) - ratioFault(mirrored);
  if (gain > RATIO_DOUBT && other < 2 * chi) return true;
  return other < 0.5 * chi && other < POOR_FIT && gain > -0.05;
}
