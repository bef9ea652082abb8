/**
 * Pictures stored mirrored (left for right), as behind a folding mirror or from a film the wrong way round. Mirrored, the
 * curve bends the other way and the stronger line stands on the wrong side: with the pair's strengths free the fit looks
 * as good, but its strength ratio comes out upside down.
 */
import type { Frame } from "../picture/api.ts";
import type { Reading, ReadingInput } from "./api.ts";
import type { Assignment } from "./gaps.ts";
import { lampSaysMirrored } from "./lamp-sides.ts";
import { mirroredMarks } from "./marks.ts";
import type { SeenSides } from "./prepare.ts";

/** |ln| of the strength ratio over its published value beyond which the sides of a picture are in doubt. */
const RATIO_DOUBT = 0.2;
/** |ln| of two lines' strengths from which on their gaps tell which is which. */
const STRENGTH_TELLS = 0.35;
/** Fitted values that change sign with the direction of the columns. */
const ODD: ReadonlySet<string> = new Set(["line 1", "line 2", "slope", "roll", "smile"]);

function ratioFault(reading: Reading): number {
  const ratio = reading.parameters.find((p) => p.name === "strength ratio")?.value ?? 1;
  return Math.abs(Math.log(ratio));
}

/** True where the two lines differ enough in strength to tell left from right. */
export function tellsSides({ pairs }: Assignment): boolean {
  if (pairs.length < 2) return false;
  return Math.abs(Math.log(pairs[0].line.strength / pairs[1].line.strength)) > STRENGTH_TELLS;
}

/** True where the weaker line has the clearly wider gap (equal strengths say nothing), or a lamp beside a single line says so. */
export function looksMirrored({ assignment, lamp }: SeenSides): boolean {
  if (lamp !== null) return lampSaysMirrored(lamp);
  if (!tellsSides(assignment)) return false;
  const [a, b] = assignment.pairs;
  const widths = Math.log(a.gap.halfWidth / b.gap.halfWidth);
  const strengths = Math.log(a.line.strength / b.line.strength);
  return widths / strengths < -0.25;
}

/** True where the picture should be tried mirrored as well. */
export function doubtful(reading: Reading): boolean {
  return reading.verdict.code === "poor" || ratioFault(reading) > RATIO_DOUBT;
}

/** True where the mirrored reading goes clearly better with lines and pixels; a single line bends alike from both sides. */
export function mirrorIsBetter(stored: Reading, mirrored: Reading): boolean {
  if (!mirrored.converged || stored.lineColumns.length < 2) return false;
  const [chi, other] = [stored.reducedChiSquare, mirrored.reducedChiSquare];
  const gain = ratioFault(stored) - ratioFault(mirrored);
  if (gain > RATIO_DOUBT && other < 2 * chi) return true;
  return other < 0.5 * chi && other < 4 && gain > -0.05;
}

export function mirroredInput(input: ReadingInput): ReadingInput {
  const { hot, cold, lamp, dark, marks, ...rest } = input;
  return {
    ...rest,
    ...(marks === undefined ? {} : { marks: mirroredMarks(marks, hot.columns) }),
    hot: mirrored(hot),
    ...(cold === undefined ? {} : { cold: mirrored(cold) }),
    ...(lamp === undefined ? {} : { lamp: mirrored(lamp) }),
    ...(dark === undefined ? {} : { dark: mirrored(dark) }),
  };
}

function mirrored(frame: Frame): Frame {
  const { columns, rows, channels } = frame;
  if (frame.samples.length !== columns * rows * channels) return frame;
  const samples = frame.samples.slice();
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++)
      for (let k = 0; k < channels; k++)
        samples[(r * columns + c) * channels + k] =
          frame.samples[(r * columns + columns - 1 - c) * channels + k];
  return { ...frame, samples };
}

/** A reading of the mirrored picture in the columns and angles of the stored one, with a warning that says so. */
export function unmirrored(reading: Reading, size: Pick<Frame, "columns" | "rows">): Reading {
  const { columns, rows } = size;
  const sign = reading.parameters.map((p) => (ODD.has(p.name) ? -1 : 1));
  const n = sign.length;
  const { wavelengthScale: scale } = reading;
  const mask = reading.mask.slice();
  const residual = reading.residual.slice();
  for (let r = 0; r < rows; r++) {
    mask.subarray(r * columns, (r + 1) * columns).reverse();
    residual.subarray(r * columns, (r + 1) * columns).reverse();
  }
  return {
    ...reading,
    orientation: "mirrored",
    ...(reading.marks === undefined ? {} : { marks: mirroredMarks(reading.marks, columns) }),
    tilt: { ...reading.tilt, value: -reading.tilt.value },
    lineColumns: reading.lineColumns.map((line) => ({ ...line, column: columns - line.column })),
    wavelengthScale: {
      ...scale,
      coefficients: scale.coefficients.map((v, k) => (k % 2 === 1 ? -v : v)),
      centreColumn: columns - scale.centreColumn,
      features: scale.features.map((f) => ({ ...f, column: columns - f.column })),
      roll: -scale.roll,
      smile: -scale.smile,
    },
    warnings: [
      "The picture is stored mirrored, left for right: it was read the other way round; columns are those of the stored picture.",
      ...reading.warnings,
    ],
    parameters: reading.parameters.map((p, k) => ({ ...p, value: sign[k] * p.value })),
    covariance: reading.covariance.map((v, i) => v * sign[Math.floor(i / n)] * sign[i % n]),
    derived: {
      ...reading.derived,
      oscillatorCurve: {
        ...reading.derived.oscillatorCurve,
        residuals: reading.derived.oscillatorCurve.residuals
          .map((point) => ({ ...point, column: columns - point.column }))
          .reverse(),
      },
      phase: reading.derived.phase.map((point) => ({ ...point, column: columns - point.column })).reverse(),
    },
    trace: reading.trace.map((point) => ({ ...point, column: columns - point.column })).reverse(),
    curve: { ...reading.curve, column: reading.curve.column.map((c) => columns - c) },
    mask,
    residual,
  };
}
