/** The plain word on a reading: whether the numbers may be used. */
import type { Reading } from "./api.ts";
import type { Answers } from "./budget.ts";
import { coarseCounts, MISFIT } from "./fit-faults.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { lampCannotTell } from "./lamp-sides.ts";

/** χ² per degree of freedom up to which the model describes the picture roughly; below MISFIT it does so down to the noise. */
const FAIR = 4;
/** Loss of light beside a gap from which on the density is in doubt. */
const SMOKE_TELLS = 0.05;

/** "good" only where the picture itself says that it was understood: its light, its way round, and full precision. */
export function verdictOf(fitted: FittedPicture, answers: Answers): Reading["verdict"] {
  const { fit } = fitted;
  const chi = fit.reducedChiSquare;
  const start = `χ² per degree of freedom ${chi < 1000 ? chi.toFixed(2) : chi < 1e6 ? chi.toFixed(0) : "above a million"} over ${fit.degreesOfFreedom} pixels`;
  if (!fit.solution.converged)
    return { code: "poor", text: `The fit did not come to rest (${start}): do not use the numbers.` };
  if (fit.solution.atBound.some(Boolean))
    return {
      code: "poor",
      text: `A parameter ran against its limit (${start}): the picture is not what the setup says.`,
    };
  if (chi >= FAIR)
    return {
      code: "poor",
      text: `The model misses features of the picture (${start}): look at the overlay before using the numbers.`,
    };
  if (chi >= MISFIT)
    return {
      code: "fair",
      text: `The model describes the picture, with faults larger than the noise (${start}).`,
    };
  const doubt = doubtOf(fitted, answers);
  if (doubt !== null)
    return {
      code: "fair",
      text: `The model describes the picture down to its noise (${start}), but ${doubt}.`,
    };
  return { code: "good", text: `The model describes the picture down to its noise (${start}).` };
}

/** What a perfect fit does not settle; null where nothing is left open. */
function doubtOf(fitted: FittedPicture, answers: Answers): string | null {
  if (fitted.sides !== null && lampCannotTell(fitted.sides))
    return "the lamp's lines fit the picture and its mirror image alike: the sign of the gradient is not told";
  if (bendsOtherWay(fitted, answers) && mirrorBlind(fitted))
    return "it bends the other way than the setup expects, and its lines cannot tell a mirrored picture: the sign of the gradient is not told";
  if (fitted.lossBeside > SMOKE_TELLS)
    return "smoke or a shadow dims the light beside a line's own gap: the column density is in doubt";
  if (coarseCounts(fitted))
    return "the file's counts are coarser than the noise in the dark: the column density is in doubt";
  return null;
}

/** True where the vapour would have to be dense at the cool side; the noise of a gradient that is not seen says nothing. */
export function bendsOtherWay({ setup, gradientSeen }: FittedPicture, { columnGradient }: Answers): boolean {
  const { top, bottom } = setup.vessel.wall;
  return gradientSeen && columnGradient.value * Math.sign(top - bottom) < 0;
}

/** One line, or two of about the same strength, look the same from both sides; a lamp's lines do not. */
export function mirrorBlind({ assignment, scale }: FittedPicture): boolean {
  const [a, b] = assignment.pairs.map((p) => p.line.strength);
  return scale === null && (assignment.pairs.length < 2 || Math.abs(Math.log(a / b)) < 0.25);
}
