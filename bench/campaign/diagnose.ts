/**
 * Does `diagnose` name what is wrong? Days at one invented bench, each with the ordinary scatter of every setting and one
 * fault, mild or strong; about a third of the pictures come from a renderer that shares no code with the forecast.
 *
 *   node --import tsx bench/campaign/diagnose.ts [PER_CAUSE_AND_DEGREE] [GOOD] [SEED] [PROCESSES] [--rows FILE]
 *
 * Prints Markdown; docs/diagnose.md holds a run of it. With --rows each verdict is added to FILE as soon as it is there, and days whose verdict
 * stands there already are not drawn again: a run that was broken off goes on, with as many processes as one likes.
 */
import { spawn } from "node:child_process";
import { availableParallelism } from "node:os";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { keepRow, keptRows, mendRows } from "../lib/kept-rows.ts";
import { benchSetup, judge, OUTSIDE, report, type Verdict } from "./diagnose/confusion.ts";
import { type CaseOfDay, faultyDays, goodDays } from "./diagnose/days.ts";
import { drawDay, nominalOf } from "./diagnose/draw.ts";
import { drawOutside } from "./diagnose/outside.ts";

const words = process.argv.slice(2);
const flag = words.indexOf("--rows");
const [, rowsFile] = flag < 0 ? [] : words.splice(flag, 2);
const [per = "6", good = "80", seed = "1", processes = String(availableParallelism()), part] = words;
/** Pictures that the outside renderer draws at one start. */
const BATCH = 12;

if (part === undefined) await whole(Number(processes));
else shareOfWork(Number(part), Number(processes));

/** What tells one picture from all others. */
function nameOf({ by, seed: own, truth, degree }: Pick<Verdict, "by" | "seed" | "truth" | "degree">): string {
  return [by, own, truth, degree].join(" ");
}

function keptVerdicts(): Verdict[] {
  return rowsFile === undefined ? [] : (keptRows(rowsFile) as Verdict[]);
}

/** Each process does every n-th case and says its verdicts line by line. */
function shareOfWork(index: number, count: number): void {
  const say = (verdict: Verdict): void => {
    process.stdout.write(`${JSON.stringify(verdict)}\n`);
  };
  const done = new Set(keptVerdicts().map(nameOf));
  const mine = (by: Verdict["by"], days: readonly CaseOfDay[]): CaseOfDay[] =>
    days.filter(
      ({ seed: own, cause, degree }, k) =>
        k % count === index && !done.has(nameOf({ by, seed: own, truth: cause, degree })),
    );
  const own = Number(seed) * 1_000_000;
  const each = Number(per);
  const others = mine("outside", [
    ...faultyDays(Math.ceil(each / 2), own + 500_000),
    ...goodDays(Math.ceil(Number(good) / 2), own + 950_000),
  ]);
  if (others.length > 0) judgeOutside(others, say);
  const ours = mine("forecast", [...faultyDays(each, own), ...goodDays(Number(good), own + 900_000)]);
  if (ours.length === 0) return;
  const nominal = nominalOf(benchSetup());
  for (const day of ours) say(judge(nominal, day, "forecast", drawDay(nominal, day)));
}

function judgeOutside(others: readonly CaseOfDay[], say: (verdict: Verdict) => void): void {
  const outside = nominalOf(benchSetup(OUTSIDE));
  for (let k = 0; k < others.length; k += BATCH) {
    const some = others.slice(k, k + BATCH);
    const inputs = drawOutside(outside, some);
    if (inputs === null) {
      process.stderr.write(
        "Python with numpy and scipy is not to be had: no pictures of the outside renderer.\n",
      );
      break;
    }
    for (const [i, day] of some.entries()) say(judge(outside, day, "outside", inputs[i]));
  }
}

async function whole(count: number): Promise<void> {
  if (rowsFile !== undefined) mendRows(rowsFile);
  const verdicts = keptVerdicts();
  await Promise.all(
    Array.from(
      { length: count },
      (_, index) =>
        new Promise<void>((resolve, reject) => {
          const child = spawn(
            process.execPath,
            [
              ...process.execArgv,
              fileURLToPath(import.meta.url),
              per,
              good,
              seed,
              String(count),
              String(index),
              ...(rowsFile === undefined ? [] : ["--rows", rowsFile]),
            ],
            { stdio: ["ignore", "pipe", "inherit"] },
          );
          createInterface(child.stdout).on("line", (line) => {
            const verdict = JSON.parse(line) as Verdict;
            verdicts.push(verdict);
            if (rowsFile !== undefined) keepRow(rowsFile, verdict);
            if (process.stderr.isTTY) process.stderr.write(`\r\x1b[K${verdicts.length} pictures`);
          });
          child.on("close", (code) =>
            code === 0 ? resolve() : reject(new Error(`a process ended with ${String(code)}`)),
          );
        }),
    ),
  );
  console.log(report(verdicts.sort((a, b) => a.by.localeCompare(b.by) || a.seed - b.seed)));
}
