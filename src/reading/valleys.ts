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
  const here = fitPixels({ ...input, terms: startedAt(input.terms, side * size) });
  const there = fitPixels({ ...input, terms: startedAt(input.terms, -side * size), sigma: here.sigma });
  const gap = there.solution.cost - here.solution.cost;
  return gap >= 0 ? { best: here, other: there, gap } : { best: there, other: here, gap: -gap };
}

/** The shape across the beam anew, all else as it is. */
function startedAt(terms: PixelFitInput["terms"], change: number): PixelFitInput["terms"] {
  return terms.map((term) => {
    if (term.name === "gradient change") return { ...term, start: change };
    const assumed = term.name === "gradient bow" || term.name === "offset change";
    return assumed ? { ...term, start: term.prior?.value ?? 0 } : term;
  });
}
