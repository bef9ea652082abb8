/** Photographs read by the core, and put into the form in which the page draws and says it. */
import type { Frame } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { lampLinesFromNames, type Measured, type Reading, readPicture } from "../../reading/index.ts";
import { examineSetup, type JsonObject, type Setup } from "../../setup/index.ts";
import { roundTicks } from "../figure/ticks.ts";
import { decodePhoto } from "./decode.ts";
import { Faults } from "./faults.ts";
import type { PhotoReading, ReadNumber, ReadRequest } from "./protocol.ts";

export async function readPhotographs(request: ReadRequest): Promise<PhotoReading> {
  const { setup, faults } = examineSetup(request.setup as JsonObject);
  if (setup === undefined) throw new Faults(faults);
  if (request.lamp !== undefined && request.lampLines.trim() === "") {
    throw new Refusal({
      code: "lamp-without-lines",
      field: "lines of the lamp",
      received: "nothing",
      expected: 'names such as "Ar, Ne" or lines such as "763.72 nm vacuum"',
    });
  }
  const hot = await decodePhoto(request.hot);
  const cold = request.cold === undefined ? undefined : await decodePhoto(request.cold);
  const lamp = request.lamp === undefined ? undefined : await decodePhoto(request.lamp);
  const reading = readPicture({
    hot,
    ...(cold === undefined ? {} : { cold }),
    ...(lamp === undefined ? {} : { lamp, lampLines: lampLinesFromNames(request.lampLines) }),
    setup,
  });
  return {
    picture: { columns: hot.columns, rows: hot.rows, rgba: toLookAt(hot) },
    fitted: reading.curve,
    lines: reading.lineColumns.map((line) => ({
      label: `${(line.wavelength * 1e9).toFixed(2)} nm`,
      column: line.column,
    })),
    scale: scaleTicks(reading, hot.columns),
    numbers: numbersOf(setup, reading),
    verdict: reading.verdict,
    warnings: reading.warnings,
    assumptions: reading.assumptions,
  };
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
  const { coefficients, centreColumn } = reading.wavelengthScale;
  const at = (column: number): number =>
    coefficients.reduceRight((sum, c) => sum * ((column - centreColumn) / 1000) + c, 0) * 1e9;
  return roundTicks(at(0), at(columns), 8).map(({ value, text }) => ({
    at: columnOf(at, value, columns),
    text,
  }));
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

/** The photograph in grey, its faint branches lifted by a square root, black and white at the darkest and brightest thousandth. */
function toLookAt(frame: Frame): Uint8ClampedArray<ArrayBuffer> {
  const { columns, rows, channels, samples, depth } = frame;
  const count = columns * rows;
  const top = depth === 8 ? 255 : 65535;
  const grey = new Uint16Array(count);
  const histogram = new Uint32Array(top + 1);
  for (let p = 0; p < count; p++) {
    const value =
      channels === 1
        ? samples[p]
        : Math.round((samples[3 * p] + samples[3 * p + 1] + samples[3 * p + 2]) / 3);
    grey[p] = value;
    histogram[value] += 1;
  }
  const quantile = (share: number): number => {
    let seen = 0;
    let value = 0;
    while (value < top && seen + histogram[value] < share * count) seen += histogram[value++];
    return value;
  };
  const [dark, bright] = [quantile(0.5), Math.max(quantile(0.999), quantile(0.5) + 1)];
  const rgba = new Uint8ClampedArray(count * 4);
  for (let p = 0; p < count; p++) {
    const value = 255 * Math.sqrt(Math.max(0, (grey[p] - dark) / (bright - dark)));
    rgba[4 * p] = rgba[4 * p + 1] = rgba[4 * p + 2] = value;
    rgba[4 * p + 3] = 255;
  }
  return rgba;
}
