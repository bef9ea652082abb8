import { Command } from "commander";
import { encodePng, frameOfView, lightOfFrame, viewImage } from "../../picture/index.ts";
import { formatQuantity } from "../../quantity/index.ts";
import { check, type Finding } from "../../plan/index.ts";
import { curvePoints, type CurvePoints, type Forecast, forecast } from "../../setup/index.ts";
import { writeAll } from "../files.ts";
import { print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

interface Options {
  readonly output: string;
  readonly set: string[];
  readonly cold?: boolean;
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
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "the summary as one JSON document on stdout")
    .action(async (path: string, options: Options) => {
      const { setup } = await openSetup(path, options.set);
      const result = forecast(setup, { cold: options.cold === true });
      const points = curvePoints(setup, result.curve);
      const summary = forecastSummary(result, options.cold === true);
      await writeAll(options.output, {
        "picture.png": encodePng(result.frame),
        "view.png": viewPng(result),
        "curve.csv": curveCsv(points),
        "summary.json": toJson(summary),
      });
      print(options.json === true ? toJson(summary) : words(result, summary.findings, options.output));
    });
}

/** The exposed picture in the colours of its wavelengths, the middle of the cold line at full brightness. */
function viewPng({ setup, frame, curve }: Forecast): Uint8Array {
  const { camera } = setup;
  const electrons = camera.rate * camera.exposure;
  const full = electrons > 0 ? camera.fullWell / electrons : 1;
  const light = lightOfFrame(frame, camera.gamma, camera.blackLevel, full);
  return encodePng(frameOfView(viewImage(light, curve.map, camera), camera.columns, camera.rows));
}

/** A cold tube holds no vapour: its summary has no lines, no columns and nothing to find fault with. */
export function forecastSummary(result: Forecast, cold = false) {
  const { setup, curve, vapour } = result;
  const { columnDensity, columnGradient, gasColumnGradient } = vapour.middle;
  return {
    cold,
    lines: curve.lines.map(({ line, wavelength, halfGap, edgeDeflection }) => ({
      line,
      wavelength,
      halfGap,
      edgeDeflection,
    })),
    zeroBetweenLines: curve.zeroBetweenLines,
    imageInverted: setup.path.inverted,
    columnDensity: cold ? 0 : columnDensity,
    columnGradient: cold ? 0 : columnGradient,
    gasColumnGradient: cold ? 0 : gasColumnGradient,
    pixelsPerRadian: curve.scale.perRadian / setup.camera.pixel,
    wavelengthRange: [curve.bundle.wavelengths[0], curve.bundle.wavelengths.at(-1)],
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

function words(result: Forecast, findings: readonly Finding[], folder: string): string {
  const { curve } = result;
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
  return [table(rows), ...zero, ...findings.map(said), files].join("\n");
}

function said(finding: Finding): string {
  return `${finding.level}: ${finding.sentence}`;
}
