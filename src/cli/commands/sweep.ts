import { dirname, basename } from "node:path";
import { Command } from "commander";
import {
  type Filling,
  MOST_POINTS,
  OUTCOMES,
  outcomeWord,
  parseAxis,
  type Row,
  type SweepJob,
  sweepJob,
} from "../../plan/index.ts";
import { fromCoherent, Refusal } from "../../quantity/index.ts";
import { writeAll } from "../files.ts";
import { digits, print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";
import { wholeNumber, type WorkOptions, withWorkOptions, workOn } from "../work-options.ts";

interface Options extends WorkOptions {
  readonly over: string[];
  readonly by: string;
  readonly points: string;
  readonly show: string;
  readonly output?: string;
  readonly set: string[];
  readonly json?: boolean;
}

const USUAL = "height,halfGap,gapTimes,pairTimes,density,supersaturation";

export function sweepCommand(): Command {
  const command = new Command("sweep")
    .description("a table of forecasts over parameters of the setup")
    .argument("<setup>", "setup file")
    .option(
      "--over <field=values>",
      'a range "vessel.bottom=260..300 degC in 9" or a list "medium.element=Na,K"; repeatable',
      repeat,
      [],
    )
    .option("--by <filling>", "grid, or points that fill the ranges evenly: sobol, r2", "grid")
    .option("--points <number>", "points for sobol and r2", "64")
    .option(
      "--show <outcomes>",
      `columns of the table: ${OUTCOMES.map((word) => word.name).join(", ")}`,
      USUAL,
    )
    .option("-o, --output <file>", "the whole table as CSV, SI units")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout");
  return withWorkOptions(command).action(async (path: string, options: Options) => {
    const { setup, document } = await openSetup(path, options.set);
    const shown = options.show.split(",").map((name) => outcomeWord(name.trim(), "--show"));
    const job = sweepJob(
      document,
      options.over.map(parseAxis),
      fillingOf(options.by),
      wholeNumber(options.points, "--points", 1, MOST_POINTS),
    );
    const rows = await workOn(job, options);
    if (options.output !== undefined)
      await writeAll(dirname(options.output), { [basename(options.output)]: csv(job, rows) });
    if (options.json === true) print(toJson({ ...sweepResult(job, rows), provenance: provenanceOf(setup) }));
    else print(words(job, rows, shown));
  });
}

function fillingOf(text: string): Filling {
  if (text === "grid" || text === "sobol" || text === "r2") return text;
  throw new Refusal({
    code: "unknown-filling",
    field: "--by",
    received: JSON.stringify(text),
    expected: "one of grid, sobol, r2",
  });
}

export function sweepResult(job: SweepJob, rows: readonly Row[]) {
  return {
    over: job.paths,
    units: Object.fromEntries(OUTCOMES.map((word) => [word.name, word.unit])),
    rows: rows.map((row, i) => ({ at: job.points[i], ...row })),
  };
}

function csv(job: SweepJob, rows: readonly Row[]): string {
  const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const header = [...job.paths, ...OUTCOMES.map((word) => `${word.name}_${word.unit}`), "refused"];
  const lines = rows.map((row, i) => {
    const values = OUTCOMES.map((word) => ("refused" in row ? "" : String(row.values[word.name] ?? "")));
    return [...job.points[i], ...values, "refused" in row ? row.refused : ""].map(quoted).join(",");
  });
  return `${[header.map(quoted).join(","), ...lines].join("\n")}\n`;
}

function words(job: SweepJob, rows: readonly Row[], shown: readonly (typeof OUTCOMES)[number][]): string {
  const header = [
    ...job.paths,
    ...shown.map((word) => (word.show === "1" ? word.label : `${word.label}, ${word.show}`)),
  ];
  const body = rows.map((row, i) => {
    if ("refused" in row) return [...job.points[i], `refused: ${row.refused}`];
    const cells = shown.map((word) => {
      const value = row.values[word.name];
      return value === null || value === undefined ? "none" : digits(fromCoherent(value, word.show));
    });
    return [...job.points[i], ...cells];
  });
  return table([header, ...body]);
}
