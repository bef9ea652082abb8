import { Command } from "commander";
import { encodePng } from "../../picture/index.ts";
import { formatQuantity } from "../../quantity/index.ts";
import { type Measured, type Reading, readPicture } from "../../reading/index.ts";
import { forecastFog, type Setup, vapourStage } from "../../setup/index.ts";
import { COARSE_GRID } from "../../vessel/index.ts";
import { writeAll } from "../files.ts";
import { digits, print, table, toJson } from "../output.ts";
import { overlayFrame } from "../overlay.ts";
import { type PhotographOptions, photographOptions, withPhotograph } from "../photograph.ts";
import { provenanceOf } from "../provenance.ts";

interface Options extends PhotographOptions {
  readonly output?: string;
  readonly json?: boolean;
}

export function readCommand(): Command {
  return photographOptions(new Command("read"))
    .description(
      "from a photograph back to numbers: wavelength scale, curve, columns, separation, each with its uncertainty",
    )
    .option("-o, --output <folder>", "folder for the overlay and the reading as JSON")
    .option("--json", "one JSON document on stdout")
    .action(async (picture: string, options: Options) => {
      const { result: reading, setup, input } = await withPhotograph(picture, options, readPicture);
      const result = readResult(setup, reading);
      if (options.output !== undefined) {
        await writeAll(options.output, {
          "overlay.png": encodePng(overlayFrame(input.hot, reading)),
          "reading.json": toJson(result),
        });
      }
      print(options.json === true ? toJson(result) : words(reading, result.foreseen));
    });
}

export function readResult(setup: Setup, reading: Reading) {
  const {
    curve: _curve,
    mask: _mask,
    residual: _residual,
    trace,
    lineColumns,
    covariance: _covariance,
    ...rest
  } = reading;
  return {
    ...rest,
    foreseen: foreseenBy(setup),
    lineColumns: lineColumns.map((line) => line.column),
    lines: lineColumns,
    tracePoints: trace.length,
    provenance: provenanceOf(setup),
  };
}

/** Columns that the setup's vessel foretells, and the band that fog opens about them. */
function foreseenBy(setup: Setup) {
  const stage = vapourStage(setup, { grid: COARSE_GRID });
  const { chance, columnDensity, columnGradient } = forecastFog(stage, []);
  return {
    columnDensity: stage.middle.columnDensity,
    columnGradient: stage.middle.columnGradient,
    withFog: { chance, columnDensity, columnGradient },
  };
}

function foreseenWords({ withFog, ...plain }: ReturnType<typeof foreseenBy>): string {
  const span = ([low, high]: readonly [number, number]): string => `${digits(low, 3)} to ${digits(high, 3)}`;
  return `foreseen by the setup: column gradient ${digits(plain.columnGradient, 3)} m-3 (with fog ${span(withFog.columnGradient)}), column density ${digits(plain.columnDensity, 3)} m-2 (with fog ${span(withFog.columnDensity)}); fog ${withFog.chance === "none" ? "is not expected" : `is ${withFog.chance}`}`;
}

function words(reading: Reading, foreseen: ReturnType<typeof foreseenBy>): string {
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
    foreseenWords(foreseen),
    `${reading.verdict.code}: ${reading.verdict.text}`,
    ...reading.warnings.map((warning) => `mind: ${warning}`),
    ...reading.assumptions.map((assumption) => `assumed: ${assumption}`),
  ].join("\n");
}
