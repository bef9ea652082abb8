import { Command } from "commander";
import { encodePng, frameOfView } from "../../picture/index.ts";
import { formatQuantity, parseQuantity } from "../../quantity/index.ts";
import { check, type Finding } from "../../plan/index.ts";
import {
  type Band,
  bendingOf,
  curvePoints,
  type CurvePoints,
  type Forecast,
  forecast,
  type ForecastFog,
  forecastFog,
  wallAtMinute,
} from "../../setup/index.ts";
import { writeAll } from "../files.ts";
import { minutesOf, powerSteps } from "../heating-options.ts";
import { makeFilm } from "../film.ts";
import {
  audiencePart,
  comparePart,
  ledgerPart,
  fogPart,
  type Part,
  sharpnessPart,
  signalPart,
  viewOf,
} from "../forecast-parts.ts";
import { print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

interface Options {
  readonly output: string;
  readonly set: string[];
  readonly cold?: boolean;
  readonly minutes?: string;
  readonly power: string[];
  readonly compare?: boolean;
  readonly ledger?: boolean;
  readonly signal?: boolean;
  readonly fog?: boolean;
  readonly screen?: boolean;
  readonly film?: string;
  readonly frames: string;
  readonly until?: string;
  readonly json?: boolean;
}

export function forecastCommand(): Command {
  return new Command("forecast")
    .description(
      "the picture the camera will see: 16-bit PNG, a colour PNG to look at, the curve as CSV, a summary",
    )
    .argument("<setup>", "setup file")
    .requiredOption("-o, --output <folder>", "folder for the files")
    .option("--cold", "the picture of the cold tube")
    .option("--compare", "also compare.png: the cold tube above the hot one")
    .option(
      "--ledger",
      "also ledger.csv, ledger.png and ledger.svg (with a key): where the light went, wavelength by wavelength",
    )
    .option("--signal", "also signal.csv: electrons, noise and signal to noise along the curve")
    .option("--fog", "also fog.csv: the band that fog opens about the curve")
    .option("--screen", "also screen.csv and screen.png: what an audience would see of the same light")
    .option("--film <what>", "also numbered pictures: warm-up (a setup with a heater) or smoke")
    .option("--frames <number>", "pictures of the film", "24")
    .option("--until <time>", "end of the warm-up's film", "60 min")
    .option("--minutes <n>", "so many minutes after the heater is switched on; needs a heater")
    .option("--power <time=power>", 'the heater from then on, such as "40 min=0 W"; repeatable', repeat, [])
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "the summary as one JSON document on stdout")
    .action(async (path: string, options: Options) => {
      const { setup } = await openSetup(path, options.set);
      const minute =
        options.minutes === undefined
          ? {}
          : {
              shell: wallAtMinute(setup, minutesOf(options.minutes), powerSteps(options.power), "--minutes")
                .shell,
            };
      const result = forecast(setup, { cold: options.cold === true, ...minute });
      const points = curvePoints(setup, result.curve);
      const parts = partsOf(result, options);
      const summary = Object.assign(
        forecastSummary(result, options.cold === true),
        ...parts.map((part) => part.summary),
      ) as ReturnType<typeof forecastSummary>;
      await writeAll(options.output, {
        "picture.png": encodePng(result.frame),
        "view.png": encodePng(frameOfView(viewOf(result), setup.camera.columns, setup.camera.rows)),
        "curve.csv": curveCsv(points),
        ...Object.fromEntries(parts.flatMap((part) => Object.entries(part.files))),
        "summary.json": toJson(summary),
      });
      const film =
        options.film === undefined
          ? []
          : [await makeFilm(result, options.film, options.frames, until(options), options.output)];
      print(
        options.json === true
          ? toJson(summary)
          : [...parts.map((part) => part.words), words(result, summary, options.output), ...film].join("\n"),
      );
    });
}

function until(options: Options): number {
  return parseQuantity(options.until ?? "60 min", "s", "--until");
}

function partsOf(result: Forecast, options: Options): Part[] {
  return [
    ...(options.ledger === true ? [ledgerPart(result)] : []),
    ...(options.signal === true ? [signalPart(result)] : []),
    // A cold tube holds no fog.
    ...(options.fog === true && options.cold !== true ? [fogPart(result)] : []),
    ...(options.screen === true ? [audiencePart(result)] : []),
    ...(options.compare === true ? [comparePart(result)] : []),
  ];
}

/** A cold tube holds no vapour: its summary has no lines, no columns and nothing to find fault with. */
export function forecastSummary(result: Forecast, cold = false) {
  const { setup, curve, vapour } = result;
  const { columnDensity, columnGradient, gasColumnGradient } = vapour.middle;
  const bending = cold ? undefined : bendingOf(result);
  return {
    cold,
    lines: curve.lines.map(({ line, wavelength, halfGap, edgeDeflection }) => ({
      line,
      wavelength,
      halfGap,
      edgeDeflection,
    })),
    fog: cold ? null : forecastFog(vapour, curve.lines),
    zeroBetweenLines: curve.zeroBetweenLines,
    imageInverted: setup.path.inverted,
    columnDensity: cold ? 0 : columnDensity,
    columnGradient: cold ? 0 : columnGradient,
    gasColumnGradient: cold ? 0 : gasColumnGradient,
    pixelsPerRadian: curve.scale.perRadian / setup.camera.pixel,
    wavelengthRange: [curve.bundle.wavelengths[0], curve.bundle.wavelengths.at(-1)],
    sharpness: sharpnessPart(result),
    ...(bending === undefined
      ? {}
      : {
          rays: {
            worstPixels: bending.worstPixels,
            wallHits: bending.wallHits,
            traced: bending.rays.length,
            findings: bending.findings,
          },
        }),
    findings: cold ? [] : check(result),
    provenance: provenanceOf(setup),
  };
}

export function curveCsv(points: CurvePoints): string {
  const rows = ["wavelength_vacuum_m,deflection_rad,transmission,column_px,row_px"];
  for (let i = 0; i < points.wavelength.length; i++) {
    rows.push(
      [
        points.wavelength[i].toPrecision(12),
        points.deflection[i].toPrecision(8),
        points.transmission[i].toPrecision(8),
        points.column[i].toFixed(4),
        points.row[i].toFixed(4),
      ].join(","),
    );
  }
  return `${rows.join("\n")}\n`;
}

function words(result: Forecast, summary: ReturnType<typeof forecastSummary>, folder: string): string {
  const { curve } = result;
  const { findings } = summary;
  const files = `picture.png, view.png, curve.csv and summary.json stand in ${folder}`;
  if (curve.lines.length === 0) return [...findings.map(said), files].join("\n");
  const rows = [["line, nm vacuum", "half-gap", "edge deflection"]];
  for (const line of curve.lines) {
    rows.push([
      (line.wavelength * 1e9).toFixed(3),
      line.halfGap > 0 ? formatQuantity(line.halfGap, "m") : "none",
      formatQuantity(line.edgeDeflection, "rad"),
    ]);
  }
  const zero =
    curve.zeroBetweenLines === null
      ? []
      : [`zero between the lines: ${(curve.zeroBetweenLines * 1e9).toFixed(3)} nm vacuum`];
  return [table(rows), ...fogWords(summary.fog), ...zero, ...findings.map(said), files].join("\n");
}

function said(finding: Finding): string {
  return `${finding.level}: ${finding.sentence}`;
}

/** The band of each line where fog is more than a thought. */
function fogWords(fog: ForecastFog | null): string[] {
  if (fog === null || fog.chance === "none") return [];
  const span = ([low, high]: Band, unit: string): string =>
    `${formatQuantity(low, unit)} to ${formatQuantity(high, unit)}`;
  return [
    `with fog (${fog.chance}):`,
    ...fog.lines.map(
      (line) =>
        `  ${(line.wavelength * 1e9).toFixed(3)} nm: half-gap ${span(line.halfGap, "m")}, edge deflection ${span(line.edgeDeflection, "rad")}`,
    ),
  ];
}
