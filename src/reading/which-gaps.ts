/** Which of several pairings of gaps and lines it is: smoke and dust make gaps too, but only vapour bends the light beside them. */
import type { Assignment, RankedAssignment } from "./gaps.ts";

/** Weight of the logarithm of the trace's misfit beside the gaps' own scores; below the least misfit all are alike. */
const WEIGHT = 3;
const LEAST = 0.3;

/**
 * @param ranked best first, at least one
 * @param misfit mean square distance of the trace from the curve that a pairing asks for, in its uncertainties
 */
export function likeliest(
  ranked: readonly RankedAssignment[],
  misfit: (assignment: Assignment) => number,
): Assignment {
  if (ranked.length === 1) return ranked[0];
  const worth = (a: RankedAssignment): number => a.score - WEIGHT * Math.log(misfit(a) + LEAST);
  let best = ranked[0];
  let most = worth(best);
  for (const one of ranked.slice(1)) {
    const here = worth(one);
    if (here > most) [best, most] = [one, here];
  }
  return best;
}
