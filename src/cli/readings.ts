/** Many pictures read with one setup: the job as the workers take it, and its rows. */

import { readPicture, type Reading } from "../reading/index.ts";
import type { Row } from "../plan/index.ts";
import { Refusal } from "../quantity/index.ts";
import { meansOfFiles } from "./frame-means.ts";
import { type PhotographOptions, withPhotograph } from "./photograph.ts";

export interface ReadingsJob {
  readonly kind: "readings";
  readonly options: PhotographOptions;
  /** files, in order */
  readonly pictures: readonly string[];
  /** size and time of change of every file that goes in, so that a changed one is not taken for done */
  readonly stamps: readonly string[];
}

/** Columns of the table: name with unit as it stands in the header. */
export const READING_COLUMNS = [
  "column_gradient_m-3",
  "column_gradient_noise_m-3",
  "column_gradient_combined_m-3",
  "column_density_m-2",
  "column_density_noise_m-2",
  "column_density_combined_m-2",
  "line_separation_m",
  "line_separation_noise_m",
  "strength_ratio_1",
  "strength_ratio_noise_1",
  "tilt_rad",
  "tilt_noise_rad",
  "gradient_change_1",
  "brightness_1",
  "background_1",
  "chi_square_per_degree_1",
  "verdict_0good_1fair_2poor",
] as const;

/** Words for the numbers of the table's last column. */
export const VERDICTS: readonly Reading["verdict"]["code"][] = ["good", "fair", "poor"];

export function readingsRunner(job: ReadingsJob): (index: number) => Promise<Row> {
  const means = meansOfFiles();
  return async (index) => {
    try {
      const { result } = await withPhotograph(
        [job.pictures[index]],
        job.options,
        (input) => readPicture(input),
        means,
      );
      return { values: valuesOf(result) };
    } catch (error) {
      if (error instanceof Refusal) return { refused: error.message };
      throw error;
    }
  };
}

export function valuesOf(r: Reading): Record<(typeof READING_COLUMNS)[number], number | null> {
  const parameter = (name: string): number | null => r.parameters.find((p) => p.name === name)?.value ?? null;
  return {
    "column_gradient_m-3": r.columnGradient.value,
    "column_gradient_noise_m-3": r.columnGradient.standardUncertainty,
    "column_gradient_combined_m-3": r.columnGradient.combinedUncertainty,
    "column_density_m-2": r.columnDensity.value,
    "column_density_noise_m-2": r.columnDensity.standardUncertainty,
    "column_density_combined_m-2": r.columnDensity.combinedUncertainty,
    line_separation_m: r.lineSeparation?.value ?? null,
    line_separation_noise_m: r.lineSeparation?.standardUncertainty ?? null,
    strength_ratio_1: r.fRatio?.value ?? null,
    strength_ratio_noise_1: r.fRatio?.standardUncertainty ?? null,
    tilt_rad: r.tilt.value,
    tilt_noise_rad: r.tilt.standardUncertainty,
    gradient_change_1: r.gradientChange.value,
    brightness_1: parameter("brightness"),
    background_1: parameter("background"),
    chi_square_per_degree_1: r.reducedChiSquare,
    verdict_0good_1fair_2poor: VERDICTS.indexOf(r.verdict.code),
  };
}

export interface TableRow {
  readonly picture: string;
  /** s from the first, where known */
  readonly time: number | null;
  readonly row: Row;
}

/** Comma-separated text; the last column says why a picture was refused. */
export function readingsCsv(rows: readonly TableRow[]): string {
  const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const lines = rows.map(({ picture, time, row }) =>
    [
      quoted(picture),
      time === null ? "" : String(Number(time.toPrecision(9))),
      ...READING_COLUMNS.map((name) => {
        const value = "values" in row ? row.values[name] : null;
        return typeof value === "number" ? String(Number(value.toPrecision(9))) : "";
      }),
      "refused" in row ? quoted(row.refused) : "",
    ].join(","),
  );
  return `${["picture", "time_s", ...READING_COLUMNS, "refused", ""].slice(0, -1).join(",")}\n${lines.map((l) => `${l}\n`).join("")}`;
}

/**
 * The numbers as one NumPy file (.npy, version 1.0): a one-dimensional array of records whose fields bear the names of the CSV's columns,
 * little-endian doubles, not-a-number where there is none. Format: NumPy Enhancement Proposal 1, from memory; read back by numpy in the tests.
 */
export function readingsNpy(rows: readonly TableRow[]): Uint8Array {
  const names = ["time_s", ...READING_COLUMNS];
  const fields = names.map((name) => `('${name}', '<f8')`).join(", ");
  const text = `{'descr': [${fields}], 'fortran_order': False, 'shape': (${rows.length},), }`;
  const header = `${text}${" ".repeat((64 - ((10 + text.length + 1) % 64)) % 64)}\n`;
  const bytes = new Uint8Array(10 + header.length + 8 * names.length * rows.length);
  bytes.set([0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59, 1, 0]);
  const view = new DataView(bytes.buffer);
  view.setUint16(8, header.length, true);
  for (let i = 0; i < header.length; i++) bytes[10 + i] = header.charCodeAt(i);
  let at = 10 + header.length;
  for (const { time, row } of rows)
    for (const name of names) {
      const value = name === "time_s" ? time : "values" in row ? row.values[name] : null;
      view.setFloat64(at, typeof value === "number" ? value : Number.NaN, true);
      at += 8;
    }
  return bytes;
}
