/**
 * How wrong are readings of difficult pictures? Pictures with truth, half drawn by our own forecast and half by the
 * independent renderer, each with one main trouble; every one read; the distribution of the errors, by trouble.
 *
 *   node --import tsx bench/campaign/reading-errors.ts [PICTURES] [SEED] [--source forecast|independent] [--only TROUBLE]
 *        [--size small|practice] [--rows FILE] [--write]
 *   node --import tsx bench/campaign/reading-errors.ts --from FILE,FILE… [--size …] [--write]    the report of earlier runs' rows
 *
 * With --rows each picture's row is added to FILE, and pictures whose row stands there already are not read again: a run
 * that was broken off goes on. --write puts the tables between the marks in docs/reading-campaign.md; the rest of it is
 * written by hand.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { keepRow, mendRows } from "../lib/kept-rows.ts";
import { type DrawnCase, type Size, TROUBLES } from "./reading/cases.ts";
import { outsideCases } from "./reading/outside.ts";
import { ownCase } from "./reading/own.ts";
import { percent, report } from "./reading/report.ts";
import { type Row, rowOf, rowsIn } from "./reading/rows.ts";

/** Between which the tables of a size stand in the page. */
const MARKS: Readonly<Record<Size, string>> = {
  small: "tables of the campaign",
  practice: "tables of the campaign at full size",
};

const after = (flag: string): string | undefined => {
  const at = process.argv.indexOf(flag);
  return at < 0 ? undefined : process.argv[at + 1];
};
const numbers = process.argv.slice(2).filter((a) => /^\d+$/.test(a));
const pictures = Number(numbers[0] ?? 520);
const seed = Number(numbers[1] ?? 1);
const only = after("--only");
const rowsFile = after("--rows");
const from = after("--from");
const source = after("--source");
const size: Size = after("--size") === "practice" ? "practice" : "small";

if (rowsFile !== undefined) mendRows(rowsFile);
const rows: Row[] = (from?.split(",") ?? (rowsFile === undefined ? [] : [rowsFile])).flatMap(rowsIn);
if (from === undefined) {
  const half = Math.ceil(pictures / 2);
  if (source !== "independent")
    for (const number of wanted("forecast", half)) note(await ownCase(seed, number, size));
  if (source !== "forecast")
    for await (const one of outsideCases(seed, wanted("independent", pictures - half), size)) note(one);
}
const text = report(rows.filter((row) => (row.size ?? "small") === size));
if (process.argv.includes("--write")) write(text);
process.stdout.write(text);

/** Numbers of the pictures to be read that have no row yet. */
function wanted(which: "forecast" | "independent", count: number): number[] {
  return Array.from({ length: count }, (_, number) => number).filter(
    (number) =>
      (only === undefined || TROUBLES[number % TROUBLES.length] === only) &&
      !rows.some(
        (row) =>
          (row.size ?? "small") === size &&
          row.source === which &&
          row.seed === seed &&
          row.number === number,
      ),
  );
}

function note(one: DrawnCase): void {
  const row = rowOf(one);
  rows.push(row);
  if (rowsFile !== undefined) keepRow(rowsFile, row);
  const worst = Math.max(Math.abs(row.gradient) / 0.005, Math.abs(row.density) / 0.03);
  const missed = worst > 1 || Number.isNaN(worst) ? "  <<<" : "";
  process.stderr.write(
    `${row.source} ${row.seed}/${row.number} ${row.element} ${row.trouble}: ${row.outcome} χ² ${row.chi.toFixed(2)} G ${percent(row.gradient)} C ${percent(row.density)} sep ${(row.separation * 1e12).toFixed(2)} pm ratio ${percent(row.ratio)} tilt ${((row.tilt * 180) / Math.PI).toFixed(4)}° pulls ${row.pulls.gradient.toFixed(1)} ${row.pulls.density.toFixed(1)} ${row.seconds.toFixed(1)} s${missed}\n`,
  );
}

function write(tables: string): void {
  const file = fileURLToPath(new URL("../../docs/reading-campaign.md", import.meta.url));
  const page = readFileSync(file, "utf8");
  const marks = ["begin", "end"].map((side) => `<!-- ${MARKS[size]}: ${side} -->`);
  const [begin, end] = marks.map((mark) => page.indexOf(mark));
  if (begin < 0 || end < begin) throw new Error(`${file} has lost its marks`);
  writeFileSync(file, `${page.slice(0, begin + marks[0].length)}\n\n${tables}\n${page.slice(end)}`);
}
