/** The parametric bootstrap: are the claimed uncertainties those that the fit really scatters by? */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { Refusal } from "../quantity/refusal.ts";
import type { BootstrapLine, ReadingInput } from "./api.ts";
import { FitCovariance } from "./covariance.ts";
import { fitPicture } from "./fit-picture.ts";
import type { LightFrame } from "./frame-light.ts";
import { fitPixels, fitScratch } from "./pixel-fit.ts";

const MOST = 10_000;

/**
 * Draws the fitted model again and again with fresh noise of the picture's own size, and what cold and lamp frames told
 * beforehand with its own, and fits each as the picture was. Noise is drawn pixel by pixel: where a JPEG shares it among
 * neighbours, the claimed uncertainties, which allow for that, come out wider than these.
 * @param repeats 10…10 000; the standard deviations are known to 1/√(2·repeats)
 * @param seed integer ≥ 0; the same seed gives the same answer
 * @returns one line per fitted parameter
 * @throws Refusal as `readPicture`, and for a number of repeats out of range
 */
export function bootstrapReading(input: ReadingInput, repeats: number, seed: number): BootstrapLine[] {
  if (!Number.isInteger(repeats) || repeats < 10 || repeats > MOST)
    throw new Refusal({
      code: "bootstrap-repeats",
      field: "bootstrap",
      received: String(repeats),
      expected: `a whole number of repeats, 10 to ${MOST}`,
    });
  const fitted = fitPicture(input);
  const { fit, hot, pixels, terms, undeflected, setting, slitWidth, fixed, stored } = fitted;
  const normal = normalDraws(seed);
  const sums = new Float64Array(terms.length);
  const squares = new Float64Array(terms.length);
  const light = hot.light.slice();
  const frame: LightFrame = { ...hot, light };
  const scratch = fitScratch(hot.columns, hot.rows);
  for (let k = 0; k < repeats; k++) {
    for (let i = 0; i < pixels.length; i++) light[pixels[i]] = fit.model[i] + fit.sigma[i] * normal();
    const again = fitPixels({
      frame,
      setting,
      fixed: { ...fixed, ...fit.values },
      slitWidth,
      noise: undeflected.noise,
      stored,
      every: 1,
      scratch,
      pixels,
      loss: "squares",
      maxIterations: 30,
      fallTolerance: 1e-3,
      terms: terms.map((term) => ({
        ...term,
        start: fit.values[term.name],
        ...(term.prior === undefined
          ? {}
          : {
              prior: {
                ...term.prior,
                // What was only assumed does not scatter from exposure to exposure; it stays where the fit took it.
                value: term.prior.assumed
                  ? term.prior.value
                  : fit.values[term.name] + term.prior.sigma * normal(),
              },
            }),
      })),
    });
    terms.forEach((term, t) => {
      const off = again.values[term.name] - fit.values[term.name];
      sums[t] += off;
      squares[t] += off * off;
    });
  }
  const inflation = Math.max(1, fit.reducedChiSquare) * undeflected.noise.correlation;
  const covariance = new FitCovariance(terms, fit.solution.covariance, inflation);
  return terms.map((term, t) => {
    const shift = sums[t] / repeats;
    return {
      name: term.name,
      unit: term.unit,
      claimed: covariance.sigma(term.name),
      scatter: Math.sqrt(Math.max(squares[t] / repeats - shift * shift, 0) * (repeats / (repeats - 1))),
      shift,
    };
  });
}

/** Normal deviates by Box and Muller's pair. */
function normalDraws(seed: number): () => number {
  const generator = xoroshiro128plus(seed);
  const unit = (): number => ((generator.next() >>> 0) + 0.5) / 4294967296;
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    const size = Math.sqrt(-2 * Math.log(unit()));
    const turn = 2 * Math.PI * unit();
    spare = size * Math.sin(turn);
    return size * Math.cos(turn);
  };
}
