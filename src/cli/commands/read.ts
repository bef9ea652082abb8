import { basename, dirname } from "node:path";
import { Command } from "commander";
import { encodePng } from "../../picture/index.ts";
import { formatWithUncertainty } from "../../quantity/index.ts";
import {
  type Adoption,
  adoptUntilSettled,
  type BootstrapLine,
  bootstrapReading,
  type Measured,
  derivedWords,
  type PhasePoint,
  type Reading,
  readPicture,
} from "../../reading/index.ts";
import { correlationFigure, overlayFigure, residualFigure } from "../../report/index.ts";
import { forecastFog, type Setup, vapourStage } from "../../setup/index.ts";
import { writeAll } from "../files.ts";
import { digits, print, table, toJson } from "../output.ts";
import { overlayFrame } from "../overlay.ts";
import { framesUsed, type PhotographOptions, photographOptions, withPhotograph } from "../photograph.ts";
import { provenanceOf } from "../provenance.ts";
import { wholeNumber } from "../work-options.ts";

interface Options extends PhotographOptions {
  readonly output?: string;
  readonly adopt?: string;
  readonly json?: boolean;
  readonly bootstrap?: string;
}

/** One seed: the same picture and repeats give the same scatter. */
const BOOTSTRAP_SEED = 1;

export function readCommand(): Command {
  return photographOptions(new Command("read"))
    .description(
      "from a photograph back to numbers: wavelength scale, curve, columns, separation, each with its uncertainty",
    )
    .option(
      "-o, --output <folder>",
      "folder for the reading as JSON, the phase velocities as CSV, the overlay, and overlay, residuals and correlations as SVG",
    )
    .option("--adopt <file>", "write the setup corrected to what was read")
    .option("--json", "one JSON document on stdout")
    .option(
      "--bootstrap <n>",
      "check the claimed uncertainties: fit the model with fresh noise n times (10 to 10000)",
    )
    .action(async (pictures: string[], options: Options) => {
      const repeats =
        options.bootstrap === undefined
          ? undefined
          : wholeNumber(options.bootstrap, "--bootstrap", 10, 10_000);
      const {
        result: first,
        setup,
        document,
        input,
      } = await withPhotograph(pictures, options, (seen) => readPicture(seen));
      const { reading, adoption } =
        options.adopt === undefined
          ? { reading: first, adoption: undefined }
          : adoptUntilSettled(document, input, first);
      const bootstrap = repeats === undefined ? undefined : bootstrapReading(input, repeats, BOOTSTRAP_SEED);
      const result = {
        ...readResult(setup, reading),
        files: framesUsed(pictures, options),
        ...(bootstrap === undefined ? {} : { bootstrap }),
        ...(adoption === undefined ? {} : { adopted: { changes: adoption.changes, left: adoption.left } }),
      };
      if (options.output !== undefined) {
        await writeAll(options.output, {
          "overlay.png": encodePng(overlayFrame(input.hot, reading)),
          "overlay.svg": overlayFigure(input.hot, reading),
          "residual.svg": residualFigure(input.hot, reading),
          "correlation.svg": correlationFigure(reading),
          "reading.json": toJson(result),
          "phase.csv": phaseCsv(reading.derived.phase),
        });
      }
      if (adoption !== undefined && options.adopt !== undefined)
        await writeAll(dirname(options.adopt), {
          [basename(options.adopt)]: `${JSON.stringify(adoption.document, null, 2)}\n`,
        });
      print(
        options.json === true
          ? toJson(result)
          : [words(reading, result.foreseen, bootstrap), ...adoptedWords(adoption)].join("\n"),
      );
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
    derived: { phase, oscillatorCurve, ...derived },
    ...rest
  } = reading;
  const { residuals: _residuals, ...curveTest } = oscillatorCurve;
  return {
    ...rest,
    derived: {
      ...derived,
      oscillatorCurve: curveTest,
      columnsAboveLight: phase.filter((p) => p.aboveLight).length,
      phase: phaseColumns(phase),
    },
    foreseen: foreseenBy(setup),
    lineColumns: lineColumns.map((line) => line.column),
    lines: lineColumns,
    tracePoints: trace.length,
    provenance: provenanceOf(setup),
  };
}

/** The phase velocity at every traced point, one list for each quantity. */
function phaseColumns(phase: readonly PhasePoint[]) {
  const of = <K extends keyof PhasePoint>(name: K): PhasePoint[K][] => phase.map((point) => point[name]);
  return {
    column: of("column"),
    wavelength: of("wavelength"),
    refractivity: of("refractivity"),
    standardUncertainty: of("standardUncertainty"),
    combinedUncertainty: of("combinedUncertainty"),
    velocity: of("velocity"),
    aboveLight: of("aboveLight"),
  };
}

/** The same as a table; the velocity is as uncertain as the refractivity. */
function phaseCsv(phase: readonly PhasePoint[]): string {
  const rows = phase.map((p) =>
    [
      p.column.toFixed(2),
      ...[p.wavelength, p.refractivity, p.standardUncertainty, p.combinedUncertainty].map((v) =>
        v.toPrecision(9),
      ),
      p.velocity.toFixed(12),
      p.aboveLight ? 1 : 0,
    ].join(","),
  );
  const head =
    "column_px,wavelength_vacuum_m,refractivity_1,refractivity_noise_1,refractivity_combined_1,phase_velocity_c,above_c";
  return `${[head, ...rows].join("\n")}\n`;
}

/** Columns that the setup's vessel foretells, and the band that fog opens about them. */
function foreseenBy(setup: Setup) {
  const stage = vapourStage(setup);
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

function adoptedWords(adoption: Adoption | undefined): string[] {
  if (adoption === undefined) return [];
  const { changes, left } = adoption;
  return [
    changes.length === 0 ? "adopted: nothing to change" : "adopted:",
    ...changes.map((c) => `  ${c.path}: ${c.from ?? "nothing"} → ${c.to}, from ${c.why}`),
    ...left.map((sentence) => `  left: ${sentence}`),
  ];
}

function bootstrapWords(lines: readonly BootstrapLine[] | undefined): string[] {
  if (lines === undefined) return [];
  const rows = lines.map((line) => [line.name, digits(line.claimed, 3), digits(line.scatter, 3), line.unit]);
  return [table([["bootstrap", "claimed", "scatter", "unit"], ...rows])];
}

/** The two height scales side by side, per mrad of deflection at the tube. */
function heightWords(scale: Reading["heightScale"]): string[] {
  if (scale === undefined) return [];
  const { pixelsPerRadian: moved, standardUncertainty, bySetup } = scale;
  const each = formatWithUncertainty(moved * 1e-3, standardUncertainty * 1e-3, "1", { plain: true });
  const apart = 100 * (moved / bySetup - 1);
  return [
    `height scale ${each} pixels per mrad by the slit moved, ${(bySetup * 1e-3).toPrecision(4)} by focal length and pixel: ${Math.abs(apart).toFixed(1)} % ${apart < 0 ? "less" : "more"}`,
  ];
}

function words(
  reading: Reading,
  foreseen: ReturnType<typeof foreseenBy>,
  bootstrap?: readonly BootstrapLine[],
): string {
  const pair = (name: string, measured: Measured | null, unit: string): string[] => {
    if (measured === null) return [name, "not measured", ""];
    const { value, standardUncertainty, combinedUncertainty } = measured;
    const shown = (uncertainty: number): string =>
      formatWithUncertainty(value, uncertainty, unit, { plain: true });
    return [name, shown(standardUncertainty), shown(combinedUncertainty)];
  };
  const rows = [
    ["", "from noise alone", "with systematic parts"],
    pair("column gradient", reading.columnGradient, "m-3"),
    pair("column density", reading.columnDensity, "m-2"),
    pair("line separation, vacuum", reading.lineSeparation, "m"),
    pair("strength ratio", reading.fRatio, "1"),
    pair("tilt", reading.tilt, "rad"),
  ];
  const lines = reading.lineColumns.map(
    (line) => `${(line.wavelength * 1e9).toFixed(3)} nm stands at column ${line.column.toFixed(2)}`,
  );
  return [
    table(rows),
    "in brackets the standard uncertainty of the last two digits",
    ...lines,
    ...heightWords(reading.heightScale),
    ...derivedWords(reading),
    ...bootstrapWords(bootstrap),
    foreseenWords(foreseen),
    `${reading.verdict.code}: ${reading.verdict.text}`,
    ...reading.warnings.map((warning) => `mind: ${warning}`),
    ...reading.assumptions.map((assumption) => `assumed: ${assumption}`),
  ].join("\n");
}
