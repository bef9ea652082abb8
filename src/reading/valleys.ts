/**
 * The picture looks almost alike whether the gradient grows towards the upper or the lower side of the beam: two valleys of
 * χ², in which gradient and density differ by a few percent. Both are walked down with the same weights.
 */
import type { PixelFitInput } from "./fit-parameters.ts";
import { fitPixels, type PixelFit } from "./pixel-fit.ts";

/** The lower valley and what the other one says. */
export interface Valleys {
  readonly best: PixelFit;
  readonly other: PixelFit;
  /** cost of the other above that of the best, ½χ²; ≥ 0 */
  readonly gap: number;
}

/** A change of the gradient to start from where the present one hardly shows a side, share. */
const LEAST_START = 0.05;

/** @param input its terms start in either valley, or between them */
export function bothValleys(input: PixelFitInput): Valleys {
  const change = input.terms.find(({ name }) => name === "gradient change")?.start ?? 0;
  const size = Math.max(Math.abs(change), LEAST_START);
  const side = Math.sign(change) || 1;
  const here = walkedDown(input, side * size);
  const there = walkedDown({ ...input, sigma: here.sigma }, -side * size);
  const gap = there.solution.cost - here.solution.cost;
  return gap >= 0 ? { best: here, other: there, gap } : { best: there, other: here, gap: -gap };
}

/** A believed bow large enough for a ridge between it and none, share: seen with 0.13, in none of a dozen pictures with 0.03 to 0.09. */
const LEAST_BOW = 0.06;

/**
 * From the belief's bow and, where that differs, from none: change and bow make up for each other, and between the two lies a ridge of χ² that a
 * fit from the wrong side does not cross.
 */
function walkedDown(input: PixelFitInput, change: number): PixelFit {
  const believed = input.terms.find(({ name }) => name === "gradient bow")?.prior?.value ?? 0;
  const fit = fitPixels({ ...input, terms: startedAt(input.terms, change, believed) });
  if (Math.abs(believed) < LEAST_BOW) return fit;
  const straight = fitPixels({ ...input, terms: startedAt(input.terms, change, 0), sigma: fit.sigma });
  return straight.solution.cost < fit.solution.cost ? straight : fit;
}

/** The shape across the beam anew, all else as it is. */
function startedAt(terms: PixelFitInput["terms"], change: number, bow: number): PixelFitInput["terms"] {
  return terms.map((term) => {
    if (term.name === "gradient change") return { ...term, start: change };
    if (term.name === "gradient bow") return { ...term, start: bow };
    return term.name === "offset change" ? { ...term, start: term.prior?.value ?? 0 } : term;
  });
}
