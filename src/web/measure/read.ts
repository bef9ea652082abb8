/** Photographs read by the core, and put into the form in which the page draws and says it. */
import { vacuumToAir } from "../../medium/index.ts";
import type { HandMarks, Measured, Reading } from "../../reading/index.ts";
import { derivedWords, readPicture } from "../../reading/index.ts";
import type { Setup } from "../../setup/index.ts";
import { roundTicks } from "../figure/ticks.ts";
import { lightView, signedView } from "./grey.ts";
import { openFrames } from "./open-frames.ts";
import type { BudgetRow, LampMark, PhotoReading, ReadNumber, ReadRequest } from "./protocol.ts";

/** Residuals this many standard deviations off are drawn fully light or dark. */
const RESIDUAL_REACH = 5;

export async function readPhotographs(request: ReadRequest): Promise<PhotoReading> {
  const input = await openFrames(request);
  const { hot, cold, lamp, setup } = input;
  const reading = readPicture(input);
  return {
    views: {
      hot: lightView(hot),
      ...(cold === undefined ? {} : { cold: lightView(cold) }),
      ...(lamp === undefined ? {} : { lamp: lightView(lamp) }),
      residual: signedView(hot, (i) => reading.residual[i] / RESIDUAL_REACH),
    },
    fitted: reading.curve,
    trace: {
      column: Float64Array.from(reading.trace, ({ column }) => column),
      row: Float64Array.from(reading.trace, ({ row }) => row),
      uncertainty: Float64Array.from(reading.trace, ({ standardUncertainty }) => standardUncertainty),
      light: Float64Array.from(reading.trace, ({ transmission }) => transmission),
    },
    turned: input.turned,
    marked: reading.marks && markedWords(reading.marks, reading.wavelengthScale.source),
    lines: reading.lineColumns.map((line) => ({
      label: `${(line.wavelength * 1e9).toFixed(2)} nm`,
      wavelength: line.wavelength,
      column: line.column,
    })),
    zero: zeroOf(reading, hot.columns),
    scale: scaleTicks(reading, hot.columns),
    lamp: {
      source: reading.wavelengthScale.source,
      marks: lampMarks(reading),
      rms: reading.wavelengthScale.rmsResidual,
    },
    numbers: numbersOf(setup, reading),
    budget: budgetRows(reading),
    reducedChiSquare: reading.reducedChiSquare,
    verdict: reading.verdict,
    warnings: reading.warnings,
    assumptions: reading.assumptions,
    derived: derivedWords(reading, false),
  };
}

/** Marks that this reading took in. */
function markedWords(
  { points = [], struck = [], scale, region }: HandMarks,
  source: Reading["wavelengthScale"]["source"],
): string | undefined {
  const many = (count: number, word: string): string => `${count} ${word}${count === 1 ? "" : "s"}`;
  const said = [
    ...(points.length === 0 ? [] : [`${many(points.length, "point")} of the trace set`]),
    ...(struck.length === 0 ? [] : [`${many(struck.length, "area")} left out`]),
    ...(scale === undefined
      ? []
      : [
          source === "marks"
            ? "wavelength scale by two marks"
            : "two marks of the scale that the lamp overrides",
        ]),
    ...(region === undefined
      ? []
      : [`only columns ${region.columns.join("–")} and rows ${region.rows.join("–")} looked at`]),
  ];
  return said.length === 0 ? undefined : `By hand: ${said.join(", ")}.`;
}

function lampMarks(reading: Reading): LampMark[] {
  return reading.wavelengthScale.features.map((feature) => ({
    column: feature.column,
    names: feature.wavelengths.map(
      (w) => `${(w * 1e9).toFixed(4)} nm vacuum (${(vacuumToAir(w) * 1e9).toFixed(4)} air)`,
    ),
    residual: feature.residual,
    height: feature.height,
  }));
}

function zeroOf(reading: Reading, columns: number): PhotoReading["zero"] {
  const zero = reading.zeroBetweenLines;
  if (zero === null) return undefined;
  const { measured, expected } = zero;
  const column = columnOf(nmAt(reading), measured.value * 1e9, columns);
  return {
    column: column > 0 && column < columns ? column : undefined,
    measured: measured.value,
    uncertainty: measured.combinedUncertainty,
    expected,
  };
}

/** Causes as shares of the two columns, largest first; those that do nothing to either are left out. */
function budgetRows(reading: Reading): BudgetRow[] {
  const share = (part: number, whole: Measured): number =>
    whole.value === 0 ? 0 : Math.abs(part / whole.value);
  return reading.budget
    .map((line) => ({
      cause: line.cause,
      kind: line.kind,
      columnGradient: share(line.columnGradient, reading.columnGradient),
      columnDensity: share(line.columnDensity, reading.columnDensity),
    }))
    .filter((row) => row.columnGradient > 1e-5 || row.columnDensity > 1e-5)
    .sort((a, b) => b.columnGradient + b.columnDensity - a.columnGradient - a.columnDensity);
}

function numbersOf(setup: Setup, reading: Reading): readonly ReadNumber[] {
  const row = (label: string, measured: Measured | null, unit: string, as?: string): ReadNumber[] =>
    measured === null
      ? []
      : [
          {
            label,
            value: measured.value,
            standardUncertainty: measured.standardUncertainty,
            combinedUncertainty: measured.combinedUncertainty,
            unit,
            ...(as === undefined ? {} : { as }),
          },
        ];
  return [
    ...row("column gradient", reading.columnGradient, "m-3"),
    ...row("column density", reading.columnDensity, "m-2"),
    ...row(
      `density, if even along the heated ${(setup.vessel.heatedLength * 1e3).toPrecision(3)} mm`,
      over(reading.columnDensity, setup.vessel.heatedLength),
      "m-3",
    ),
    ...row("line separation, vacuum", reading.lineSeparation, "m", "nm"),
    ...row("strength ratio, shorter to longer", reading.fRatio, "1"),
    ...row("zero between the lines, vacuum", reading.zeroBetweenLines?.measured ?? null, "m", "nm"),
    ...row("tilt of the cold line", reading.tilt, "rad", "deg"),
  ];
}

function over(measured: Measured, length: number): Measured {
  return {
    value: measured.value / length,
    standardUncertainty: measured.standardUncertainty / length,
    combinedUncertainty: measured.combinedUncertainty / length,
  };
}

/** Round wavelengths with their columns, on the scale the reading itself found. */
function scaleTicks(reading: Reading, columns: number): { at: number; text: string }[] {
  const at = nmAt(reading);
  return roundTicks(at(0), at(columns), 8).map(({ value, text }) => ({
    at: columnOf(at, value, columns),
    text,
  }));
}

function nmAt(reading: Reading): (column: number) => number {
  const { coefficients, centreColumn } = reading.wavelengthScale;
  return (column) =>
    coefficients.reduceRight((sum, c) => sum * ((column - centreColumn) / 1000) + c, 0) * 1e9;
}

/** Column of a wavelength by halving; the scale runs one way over the picture. */
function columnOf(at: (column: number) => number, nm: number, columns: number): number {
  let [low, high] = [0, columns];
  const rising = at(columns) > at(0);
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    if (at(middle) < nm === rising) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
