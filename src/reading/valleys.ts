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

/** Is the other one a valley of its own? Where both walks end on one side of the beam, they ended in the same. */
export function twoValleys({ best, other }: Valleys): boolean {
  return best.values["gradient change"] * other.values["gradient change"] < 0;
}

/** A change of the gradient to start from where the present one hardly shows a side, share. */
const LEAST_START = 0.05;

/** Height above the best from which on a valley need not be walked to its floor, in units of the noise's own spread of ½χ². */
const HIGH = 25;
/** A rival's floor need not be known better than this, ½χ²; nor is a slow walk along it worth more steps. */
const ABOUT = 0.05;
const FEW_STEPS = 6;

/**
 * The same with more pixels, where both valleys are known already. The higher one is walked on only if its slopes promise to bring it
 * near the best, and to its very floor only if it turns out to be the lower.
 * @param input its terms start in the lower valley
 * @param known what fewer pixels said
 * @param spread of ½χ² between two models over that of independent noise, ≥ 1
 */
export function valleysAgain(
  input: PixelFitInput,
  known: Valleys,
  spread: (fit: PixelFit) => number,
): Valleys {
  const best = fitPixels(input);
  const { sigma } = best;
  const from = (values: PixelFit["values"]): PixelFitInput => ({
    ...input,
    sigma,
    terms: input.terms.map((term) => ({ ...term, start: values[term.name] })),
  });
  const start = from(known.other.values);
  const seen = fitPixels({ ...start, fallTolerance: Number.POSITIVE_INFINITY });
  const height = seen.solution.cost - seen.solution.promised - best.solution.cost;
  if (height > HIGH * spread(best)) return { best, other: seen, gap: height };
  const other = fitPixels({ ...start, fallTolerance: ABOUT, maxIterations: FEW_STEPS });
  const gap = other.solution.cost - best.solution.cost;
  if (gap >= 0) return { best, other, gap };
  const lower = fitPixels(from(other.values));
  return { best: lower, other: best, gap: best.solution.cost - lower.solution.cost };
}

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
