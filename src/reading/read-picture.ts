/** From decoded frames to a reading. */
import { metalOf } from "../setup/index.ts";
import { buildReading } from "./answers.ts";
import type { Reading, ReadingInput } from "./api.ts";
import { fitPicture, fitUnless } from "./fit-picture.ts";
import { doubtful, looksMirrored, mirroredInput, mirrorIsBetter, unmirrored } from "./orientation.ts";
import { turnSentence } from "./quarter-turn.ts";
import { Refusal } from "../quantity/refusal.ts";

/**
 * Reads a hot picture, with cold and lamp frames where there are any.
 *
 * Model: y(λ) = y_cold(λ) + y0 + s·F·κ(λ)·G, light left exp(−σ(λ)·C), averaged over the beam (gradient changing
 * linearly, dC/dy = G) and both slits; fitted to the pixels by weighted least squares. The density in σ's
 * self-broadening is C over the setup's heated length.
 *
 * A picture that does not go with its lines as stored (strengths the wrong way round, unknown lamp lines, poor fit) is
 * read mirrored too; where that is clearly better it is taken, said in a warning, and its columns turned back. Beside a
 * single line the lamp decides, weighed both ways; where it cannot tell, a warning says so and the verdict is not "good".
 * @throws Refusal where a frame is not of this kind: no bright line, no gap, wrong size, too large
 */
export function readPicture(input: ReadingInput): Reading {
  metalOf(input.setup, "a reading");
  const reading = readEitherWay(input);
  if (input.turned === undefined) return reading;
  return { ...reading, warnings: [turnSentence(input.turned), ...reading.warnings] };
}

function readEitherWay(input: ReadingInput): Reading {
  const stored = readStored(input);
  if (stored instanceof Refusal || stored === null) {
    const other = readMirrored(input);
    if (other !== null && (!doubtful(other) || toldByLamp(other))) return unmirrored(other, input.hot);
    if (stored instanceof Refusal) throw stored;
    return better(buildReading(fitPicture(input)), other, input);
  }
  return doubtful(stored) ? better(stored, readMirrored(input), input) : stored;
}

/** A single line's way round is told by the lamp alone, however badly the rest of the picture fits. */
function toldByLamp({ lineColumns, wavelengthScale }: Reading): boolean {
  return lineColumns.length === 1 && wavelengthScale.source === "lamp";
}

function better(stored: Reading, other: Reading | null, input: ReadingInput): Reading {
  return other !== null && mirrorIsBetter(stored, other) ? unmirrored(other, input.hot) : stored;
}

/** Null where the gaps look mirrored; the refusal where the lamp's lines are not the named ones. */
function readStored(input: ReadingInput): Reading | Refusal | null {
  try {
    const fitted = fitUnless(input, looksMirrored);
    return fitted && buildReading(fitted);
  } catch (error) {
    if (error instanceof Refusal && error.record.code === "lamp-lines-unknown") return error;
    throw error;
  }
}

function readMirrored(input: ReadingInput): Reading | null {
  try {
    return buildReading(fitPicture(mirroredInput(input)));
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
