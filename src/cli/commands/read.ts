import { Command } from "commander";
import { encodePng } from "../../picture/index.ts";
import { formatQuantity, Refusal } from "../../quantity/index.ts";
import { lampLinesFromNames, type Measured, type Reading, readPicture } from "../../reading/index.ts";
import type { Setup } from "../../setup/index.ts";
import { readFrame, writeAll } from "../files.ts";
import { digits, print, table, toJson } from "../output.ts";
import { overlayFrame } from "../overlay.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

interface Options {
  readonly setup: string;
  readonly cold?: string;
  readonly lamp?: string;
  readonly dark?: string;
  readonly lampLines?: string;
  readonly output?: string;
  readonly set: string[];
  readonly json?: boolean;
}

export function readCommand(): Command {
  return new Command("read")
    .description(
      "from a photograph back to numbers: wavelength scale, curve, columns, separation, each with its uncertainty",
    )
    .argument("<picture>", "photograph with the tube hot: PNG, JPEG or TIFF")
    .requiredOption("--setup <file>", "setup file of the bench that made it")
    .option("--cold <file>", "the same with the tube cold")
    .option("--lamp <file>", "a line lamp through the plumb slit")
    .option("--dark <file>", "the same with the light shut off")
    .option(
      "--lamp-lines <names>",
      'lamps and single lines, such as "Ar,Ne" or "763.7208 nm vacuum, 435.83 nm air"',
    )
    .option("-o, --output <folder>", "folder for the overlay and the reading as JSON")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout")
    .action(async (picture: string, options: Options) => {
      if (options.lampLines !== undefined && options.lamp === undefined) {
        throw new Refusal({
          code: "lines-without-lamp",
          field: "--lamp-lines",
          received: "names of lines without a lamp frame",
          expected: "--lamp FILE beside it",
        });
      }
      if (options.lamp !== undefined && options.lampLines === undefined) {
        throw new Refusal({
          code: "lamp-without-lines",
          field: "--lamp",
          received: "a lamp frame without its lines",
          expected: '--lamp-lines beside it, such as "Ar,Ne"',
        });
      }
      const { setup } = await openSetup(options.setup, options.set);
      const [hot, cold, lamp, dark] = await Promise.all([
        readFrame(picture),
        optional(options.cold),
        optional(options.lamp),
        optional(options.dark),
      ]);
      const reading = namingFiles({ ...options, hot: picture }, () =>
        readPicture({
          hot,
          ...(cold === undefined ? {} : { cold }),
          ...(lamp === undefined ? {} : { lamp }),
          ...(dark === undefined ? {} : { dark }),
          ...(options.lampLines === undefined ? {} : { lampLines: lampLinesFromNames(options.lampLines) }),
          setup,
        }),
      );
      const result = readResult(setup, reading);
      if (options.output !== undefined) {
        await writeAll(options.output, {
          "overlay.png": encodePng(overlayFrame(hot, reading)),
          "reading.json": toJson(result),
        });
      }
      print(options.json === true ? toJson(result) : words(reading));
    });
}

/** A frame that is refused is named by its file, not by its part in the reading. */
function namingFiles<T>(
  files: Readonly<Partial<Record<"hot" | "cold" | "lamp" | "dark", string>>>,
  read: () => T,
): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const part = error.record.field as "hot" | "cold" | "lamp" | "dark";
    throw new Refusal({ ...error.record, field: files[part] ?? error.record.field });
  }
}

async function optional(path: string | undefined) {
  return path === undefined ? undefined : readFrame(path);
}

export function readResult(setup: Setup, reading: Reading) {
  const { curve: _curve, mask: _mask, trace, lineColumns, covariance: _covariance, ...rest } = reading;
  return {
    ...rest,
    lineColumns: lineColumns.map((line) => line.column),
    lines: lineColumns,
    tracePoints: trace.length,
    provenance: provenanceOf(setup),
  };
}

function words(reading: Reading): string {
  const pair = (name: string, measured: Measured | null, show: (value: number) => string): string[] =>
    measured === null
      ? [name, "not measured", "", ""]
      : [
          name,
          show(measured.value),
          `± ${show(measured.standardUncertainty)}`,
          `± ${show(measured.combinedUncertainty)}`,
        ];
  const rows = [
    ["", "value", "from noise alone", "with systematic parts"],
    pair("column gradient", reading.columnGradient, (v) => `${digits(v)} m-3`),
    pair("column density", reading.columnDensity, (v) => `${digits(v)} m-2`),
    pair("line separation, vacuum", reading.lineSeparation, (v) => formatQuantity(v, "m", { digits: 5 })),
    pair("strength ratio", reading.fRatio, (v) => digits(v)),
    pair("tilt", reading.tilt, (v) => formatQuantity(v, "rad", { digits: 3 })),
  ];
  const lines = reading.lineColumns.map(
    (line) => `${(line.wavelength * 1e9).toFixed(3)} nm stands at column ${line.column.toFixed(2)}`,
  );
  return [
    table(rows),
    ...lines,
    `${reading.verdict.code}: ${reading.verdict.text}`,
    ...reading.warnings.map((warning) => `mind: ${warning}`),
    ...reading.assumptions.map((assumption) => `assumed: ${assumption}`),
  ].join("\n");
}
