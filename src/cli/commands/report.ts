/** Reports of runs and handouts for classes, as pages and, where a browser is at hand, as PDF. */

import { join } from "node:path";
import { Command } from "commander";
import { documentOf, type Entry, keptFrames, type Notebook } from "../../notebook/index.ts";
import { Refusal } from "../../quantity/index.ts";
import {
  handoutOf,
  type ReportedReading,
  runReportHtml,
  type Telling,
  tellingIn,
} from "../../report/index.ts";
import { forecast, parseSetup } from "../../setup/index.ts";
import { DEFAULT_LOCALE, languageOf, numbersFor } from "../../words/index.ts";
import { decodeFrame, writeAll } from "../files.ts";
import { inNotebook, type InOption, meant, quiet, within } from "../notebook-options.ts";
import { print, toJson } from "../output.ts";
import { findBrowser, printPdf } from "../pdf.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";
import { benchSvg, scaleForPage } from "./bench.ts";

interface To {
  readonly output: string;
  readonly pdf: boolean;
  readonly locale: string;
  readonly json?: boolean;
}

export function reportCommand(): Command {
  const report = new Command("report").description("a run told on a page, or a sheet for a class to measure");
  for (const make of [runReportCommand, handoutCommand]) report.addCommand(make());
  quiet(report);
  return report;
}

function writing(command: Command): Command {
  return command
    .requiredOption("-o, --output <folder>", "folder for the pages")
    .option("--no-pdf", "the HTML alone")
    .option(
      "--locale <tag>",
      "how numbers and dates are written, such as de-DE; words too, where there is a language file for it (English so far)",
      DEFAULT_LOCALE,
    );
}

function tellingFor({ locale }: To): Telling {
  return tellingIn(languageOf(locale), numbersFor(locale, "--locale"));
}

function runReportCommand(): Command {
  return writing(inNotebook(new Command("run")))
    .description(
      "setup, pictures, readings with their budgets, published values, cautions, origin of each number",
    )
    .argument("<run>", "entry of the run, or 'last'")
    .action(async (reference: string, options: To & InOption) => {
      const telling = tellingFor(options);
      const told = await within(options, (notebook) => tellRun(notebook, reference, telling), true);
      await tell({ "report.html": told.html }, options, {
        run: told.run.uid,
        readings: told.readings.map(({ entry }) => entry.uid),
      });
    });
}

async function tellRun(
  notebook: Notebook,
  reference: string,
  telling: Telling,
): Promise<{ readonly html: string; readonly run: Entry; readonly readings: readonly ReportedReading[] }> {
  const run = notebook.get(meant(notebook, reference, "run", "run"));
  const setupEntry = notebook.get(linkOf(run, "setup"));
  const document = documentOf(setupEntry);
  const setup = parseSetup(document);
  const entries = entriesOf(notebook, run);
  const readings: ReportedReading[] = [];
  for (const entry of entries.filter(
    ({ kind, correctedBy }) => kind === "reading" && correctedBy.length === 0,
  )) {
    const { frames } = await keptFrames(notebook, { hot: notebook.get(linkOf(entry, "hot")) }, decodeFrame);
    readings.push({ entry, hot: frames.hot });
  }
  const { frame: predicted } = forecast(setup);
  const bench = benchSvg(setup, scaleForPage(setup), telling);
  const html = runReportHtml(
    { run, setupEntry, document, setup, entries, readings, predicted, bench },
    telling,
  );
  return { html, run, readings };
}

function linkOf(entry: Entry, role: "setup" | "hot"): string {
  const link = entry.links.find((each) => each.role === role);
  if (link !== undefined) return link.to;
  throw new Refusal({
    code: "no-link",
    field: `entry ${entry.id}`,
    received: `none that says which ${role}`,
    expected: `an entry that points to its ${role}`,
  });
}

/** All entries of a run, oldest first. */
function entriesOf(notebook: Notebook, run: Entry): Entry[] {
  const found: Entry[] = [];
  for (let before: number | null | undefined; before !== null; ) {
    const page = notebook.find({ run: run.uid, limit: 1000, ...(before === undefined ? {} : { before }) });
    found.push(...page.entries);
    before = page.next;
  }
  return found.reverse();
}

function handoutCommand(): Command {
  return writing(new Command("handout"))
    .description(
      "a sheet for a class: the foretold picture, to be measured with a ruler; solutions in a file of their own",
    )
    .argument("<setup>", "setup file")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: To & { readonly set: string[] }) => {
      const telling = tellingFor(options);
      const { setup } = await openSetup(path, options.set);
      const { handout, solutions, numbers } = handoutOf(forecast(setup), telling);
      await tell({ "handout.html": handout, "solutions.html": solutions }, options, {
        numbers,
        provenance: provenanceOf(setup),
      });
    });
}

/** Writes the pages, prints them where that can be, and says what stands where. */
async function tell(pages: Readonly<Record<string, string>>, options: To, more: object): Promise<void> {
  const browser = options.pdf ? findBrowser() : undefined;
  await writeAll(options.output, pages);
  const files = Object.keys(pages);
  for (const name of Object.keys(pages)) {
    const pdf = name.replace(/html$/, "pdf");
    if (
      browser !== undefined &&
      (await printPdf(browser, join(options.output, name), join(options.output, pdf)))
    )
      files.push(pdf);
  }
  const printed = files.length > Object.keys(pages).length;
  const advice =
    printed || !options.pdf
      ? ""
      : "\nNo browser printed a PDF (CHROMIUM_PATH may name one): the HTML can be printed from any browser.";
  print(
    options.json === true
      ? toJson({ folder: options.output, files, ...more })
      : `${files.join(", ")} stand in ${options.output}.${advice}`,
  );
}
