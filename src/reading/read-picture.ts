/** From decoded frames to a reading. */
import { buildReading } from "./answers.ts";
import type { Reading, ReadingInput } from "./api.ts";
import { fitPicture } from "./fit-picture.ts";

/**
 * Reads a hot picture, with cold and lamp frames where there are any.
 *
 * Model: y(λ) = y_cold(λ) + y0 + s·F·κ(λ)·G, light left exp(−σ(λ)·C), averaged over the beam (gradient changing
 * linearly, dC/dy = G) and both slits; fitted to the pixels by weighted least squares. The density in σ's
 * self-broadening is C over the setup's heated length.
 * @throws Refusal where a frame is not of this kind: no bright line, no gap, wrong size, too large
 */
export function readPicture(input: ReadingInput): Reading {
  return buildReading(fitPicture(input));
}
