/**
 * How wrong are readings of difficult pictures? Pictures with truth, half drawn by our own forecast and half by the
 * independent renderer, each with one main trouble; every one read; the distribution of the errors, by trouble.
 *
 *   node --import tsx bench/campaign/reading-errors.ts [PICTURES] [SEED] [--source forecast|independent] [--rows FILE] [--write]
 *   node --import tsx bench/campaign/reading-errors.ts --from FILE,FILE… [--write]    the report of earlier runs' rows
 */
import { appendFileSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Refusal } from "../../src/quantity/refusal.ts";
import { type Measured, type Reading, readPicture } from "../../src/reading/index.ts";
import { Dice, type DrawnCase, TROUBLES } from "./reading/cases.ts";
import { outsideCases } from "./reading/outside.ts";
import { ownCases } from "./reading/own.ts";

const after = (flag: string): string | undefined => {
  const at = process.argv.indexOf(flag);
  return at < 0 ? undefined : process.argv[at + 1];
};
const numbers = process.argv.slice(2).filter((a) => /^\d+$/.test(a));
const pictures = Number(numbers[0] ?? 520);
const seed = Number(numbers[1] ?? 1);
const write = process.argv.includes("--write");
/** only one kind, to look into it: --only smoke */
const only = after("--only");
const rowsFile = after("--rows");
const from = after("--from");

interface Row {
  readonly source: string;
  readonly element: string;
  readonly trouble: string;
  /** refusal's code, or the verdict */
  readonly outcome: string;
  /** relative errors, m, relative, rad; NaN where not measured */
  readonly gradient: number;
  readonly density: number;
  readonly separation: number;
  readonly ratio: number;
  readonly tilt: number;
  /** errors over the combined standard uncertainty */
  readonly pulls: { readonly gradient: number; readonly density: number };
}

const rows: Row[] = [];
const half = Math.ceil(pictures / 2);
const source = after("--source");
if (from !== undefined)
  for (const file of from.split(","))
    for (const line of readFileSync(file, "utf8").split("\n"))
      if (line !== "") rows.push(revived(JSON.parse(line) as Row));
if (from === undefined && source !== "independent")
  for await (const one of ownCases(new Dice(seed), half)) note(one);
if (from === undefined && source !== "forecast")
  for await (const one of outsideCases(new Dice(seed + 1000), pictures - half)) note(one);
report();

function note(one: DrawnCase): void {
  if (only !== undefined && only !== one.trouble) return;
  const { hot, cold, lamp, lampLines, setup, truth } = one;
  const common = { source: one.source, element: one.element, trouble: one.trouble };
  const none = { gradient: Number.NaN, density: Number.NaN, separation: Number.NaN, ratio: Number.NaN };
  let row: Row;
  try {
    const reading = readPicture({
      hot,
      ...(cold ? { cold } : {}),
      ...(lamp && lampLines ? { lamp, lampLines } : {}),
      setup,
    });
    row = { ...common, ...errorsOf(reading, one) };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    row = {
      ...common,
      ...none,
      tilt: Number.NaN,
      outcome: error.record.code,
      pulls: { gradient: Number.NaN, density: Number.NaN },
    };
  }
  rows.push(row);
  if (rowsFile !== undefined) appendFileSync(rowsFile, `${JSON.stringify(row)}\n`);
  const worst = Math.max(Math.abs(row.gradient) / 0.005, Math.abs(row.density) / 0.03);
  process.stderr.write(
    `${one.name} ${one.element} ${one.trouble}: ${row.outcome} G ${percent(row.gradient)} C ${percent(row.density)} sep ${(row.separation * 1e12).toFixed(2)} pm ratio ${percent(row.ratio)} tilt ${((row.tilt * 180) / Math.PI).toFixed(4)}° pulls ${row.pulls.gradient.toFixed(1)} ${row.pulls.density.toFixed(1)}${worst > 1 || Number.isNaN(worst) ? "  <<<" : ""} (truth ${truth.gradient.toPrecision(3)} ${truth.density.toPrecision(3)})\n`,
  );
}

function errorsOf(reading: Reading, { truth, lamp }: DrawnCase): Omit<Row, "source" | "element" | "trouble"> {
  const pull = (m: Measured, wanted: number): number => (m.value - wanted) / m.combinedUncertainty;
  const { columnGradient, columnDensity, lineSeparation, fRatio, tilt } = reading;
  return {
    outcome: reading.verdict.code,
    gradient: columnGradient.value / truth.gradient - 1,
    density: columnDensity.value / truth.density - 1,
    separation:
      lineSeparation && truth.separation !== null && lamp
        ? lineSeparation.value - truth.separation
        : Number.NaN,
    ratio: fRatio && truth.ratio !== null ? fRatio.value / truth.ratio - 1 : Number.NaN,
    tilt: tilt.value - truth.tilt,
    pulls: {
      gradient: pull(columnGradient, truth.gradient),
      density: pull(columnDensity, truth.density),
    },
  };
}

/** JSON has no NaN: what was not measured comes back as null. */
function revived(row: Row): Row {
  const number = (v: number | null): number => v ?? Number.NaN;
  return {
    ...row,
    gradient: number(row.gradient),
    density: number(row.density),
    separation: number(row.separation),
    ratio: number(row.ratio),
    tilt: number(row.tilt),
    pulls: { gradient: number(row.pulls.gradient), density: number(row.pulls.density) },
  };
}

function percent(v: number): string {
  return `${(100 * v).toFixed(3)} %`;
}

/** Sizes at 50, 68, 95 and 100 % of the list. */
function quantiles(values: readonly number[], show: (v: number) => string): string {
  const sizes = values
    .filter((v) => !Number.isNaN(v))
    .map(Math.abs)
    .sort((a, b) => a - b);
  if (sizes.length === 0) return "– | – | – | –";
  const at = (share: number): number => sizes[Math.min(sizes.length - 1, Math.floor(share * sizes.length))];
  return [0.5, 0.68, 0.95, 1].map((share) => show(at(share))).join(" | ");
}

function report(): void {
  const lines: string[] = [];
  const table = (title: string, list: readonly Row[]): void => {
    const read = list.filter((r) => !Number.isNaN(r.gradient));
    const trusted = read.filter((r) => r.outcome !== "poor");
    lines.push(
      `### ${title}: ${list.length} pictures, ${list.length - read.length} refused, ${read.length - trusted.length} read with the verdict "poor"`,
      "",
      "| error, verdict good or fair | 50 % | 68 % | 95 % | worst |",
      "| --- | --- | --- | --- | --- |",
      `| column gradient | ${quantiles(
        trusted.map((r) => r.gradient),
        percent,
      )} |`,
      `| column density | ${quantiles(
        trusted.map((r) => r.density),
        percent,
      )} |`,
      `| line separation, with lamp | ${quantiles(
        trusted.map((r) => r.separation),
        (v) => `${(v * 1e12).toFixed(2)} pm`,
      )} |`,
      `| strength ratio | ${quantiles(
        trusted.map((r) => r.ratio),
        percent,
      )} |`,
      `| tilt | ${quantiles(
        trusted.map((r) => r.tilt),
        (v) => `${((v * 180) / Math.PI).toFixed(4)}°`,
      )} |`,
      `| gradient, in combined uncertainties | ${quantiles(
        trusted.map((r) => r.pulls.gradient),
        (v) => v.toFixed(2),
      )} |`,
      `| density, in combined uncertainties | ${quantiles(
        trusted.map((r) => r.pulls.density),
        (v) => v.toFixed(2),
      )} |`,
      "",
    );
  };
  table("All", rows);
  for (const source of ["forecast", "independent"])
    table(
      source === "forecast" ? "Drawn by our forecast" : "Drawn by the independent renderer",
      rows.filter((r) => r.source === source),
    );
  for (const trouble of TROUBLES)
    table(
      `Trouble: ${trouble}`,
      rows.filter((r) => r.trouble === trouble),
    );
  const refused = rows.filter((r) => Number.isNaN(r.gradient));
  const codes = [...new Set(refused.map((r) => r.outcome))].map(
    (code) => `${code} ${refused.filter((r) => r.outcome === code).length}`,
  );
  const head = [
    "# How wrong readings of difficult pictures are",
    "",
    `Written by \`npx tsx bench/campaign/reading-errors.ts\` (seed ${seed}) on ${new Date().toISOString().slice(0, 10)}. ${rows.length} pictures with truth, half drawn by our own forecast (examples, hotter and colder, 300 × 200 pixels), half by \`independent_renderer.py\` (K, Rb, Na, Cs, Sr, Ba, Ca; 320 × 220 pixels), which shares no code with the program. Each has one main trouble; roll, line curvature, inverted pictures and 8 bits come in as they like. Invented data.`,
    "",
    `Refused: ${codes.length === 0 ? "none" : codes.join(", ")}.`,
    "",
  ];
  const text = [...head, ...lines].join("\n");
  if (write) writeFileSync(fileURLToPath(new URL("../../docs/reading-campaign.md", import.meta.url)), text);
  process.stdout.write(text);
}
