/** Several hot pictures of one run read together: what the bench does not change between them is fitted once for all. */
import { Refusal } from "../quantity/refusal.ts";
import { buildReading } from "./answers.ts";
import type { FitParameter, Reading, ReadingInput } from "./api.ts";
import { type FittedPicture, fitPicture, fitUnless } from "./fit-picture.ts";
import { looksMirrored, mirroredInput, unmirrored } from "./orientation.ts";
import { fitTogether } from "./shared-fit.ts";

export interface SharedReading {
  /** one per picture, in order; uncertainties are those of the joint fit */
  readonly readings: readonly Reading[];
  /** what all pictures have in common, with its uncertainty from noise */
  readonly common: readonly FitParameter[];
  /** pixels of all pictures: χ² per degree of freedom */
  readonly reducedChiSquare: number;
  readonly converged: boolean;
}

/** Pictures that are held in memory at once. */
const MOST = 40;

/**
 * Reads the pictures of one run (a warm-up, say) by one fit: line places, strength ratio, focus (both blurs and the height of the level
 * slit's image), slope and bend of the undeflected line, roll and smile are common; column gradient and its change over the beam, column
 * density, height, brightness and background are each picture's own. Cold and lamp frame count once, whatever the number of pictures.
 * The covariance is that of all parameters together, (Σ JᵀJ + priors)⁻¹, so what the pictures share is known better and what hangs on it too.
 * @param inputs of one setup, with the same cold, lamp and dark frames
 * @throws Refusal for fewer than 2 or more than 40 pictures, pictures of different size, and whatever `readPicture` refuses
 */
export function readShared(inputs: readonly ReadingInput[]): SharedReading {
  if (inputs.length < 2 || inputs.length > MOST)
    throw new Refusal({
      code: "shared-number",
      field: "pictures",
      received: String(inputs.length),
      expected: `2 to ${MOST} pictures of one run`,
    });
  const [first] = inputs;
  const other = inputs.findIndex(
    ({ hot }) => hot.columns !== first.hot.columns || hot.rows !== first.hot.rows,
  );
  if (other >= 0)
    throw new Refusal({
      code: "frame-size",
      field: `picture ${other + 1}`,
      received: `${inputs[other].hot.columns} × ${inputs[other].hot.rows} pixels`,
      expected: `the size of the first, ${first.hot.columns} × ${first.hot.rows} pixels`,
    });
  const upright = fitUnless(first, looksMirrored);
  const turned = upright === null ? inputs.map(mirroredInput) : inputs;
  const single: FittedPicture[] = turned.map((input, k) =>
    k === 0 && upright !== null ? upright : fitPicture(input),
  );
  const places = new Set(single.map((fitted) => fitted.assignment.pairs.map((p) => p.line.id).join(" ")));
  if (places.size > 1)
    throw new Refusal({
      code: "shared-lines",
      field: "pictures",
      received: `pictures with different lines in view (${[...places].join(" and ")})`,
      expected: "pictures of one run, all with the same lines",
    });
  const { fitted, ...joint } = fitTogether(single);
  return {
    ...joint,
    readings: fitted.map((one) => {
      const reading = buildReading(one);
      return upright === null ? unmirrored(reading, first.hot) : reading;
    }),
  };
}
