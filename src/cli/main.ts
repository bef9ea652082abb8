/** The command line: verbs of the trade, thin over the core. */

import { realpathSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Command, CommanderError } from "commander";
import { Refusal } from "../quantity/index.ts";
import { PROGRAM_VERSION } from "../setup/index.ts";
import { benchCommand } from "./commands/bench.ts";
import { checkCommand } from "./commands/check.ts";
import { chooseCommand } from "./commands/choose.ts";
import { dataCommand } from "./commands/data.ts";
import { diagnoseCommand } from "./commands/diagnose.ts";
import { elementsCommand } from "./commands/elements.ts";
import { forecastCommand } from "./commands/forecast.ts";
import { indexCommand } from "./commands/index-of.ts";
import { notebookCommand } from "./commands/notebook.ts";
import { openCommand } from "./commands/open.ts";
import { prismCommand } from "./commands/prism.ts";
import { readCommand } from "./commands/read.ts";
import { reportCommand } from "./commands/report.ts";
import { runsheetCommand } from "./commands/runsheet.ts";
import { schemaCommand } from "./commands/schema.ts";
import { seriesCommand } from "./commands/series.ts";
import { spectrumCommand } from "./commands/spectrum.ts";
import { sweepCommand } from "./commands/sweep.ts";
import { toleranceCommand } from "./commands/tolerance.ts";
import { vapourCommand } from "./commands/vapour.ts";
import { BadNews } from "./notebook-options.ts";
import { print, toJson } from "./output.ts";
import { Interrupted } from "./work-options.ts";

export function program(): Command {
  const root = new Command("crossprism")
    .description("Plan, foresee, run and read crossed-prism pictures of hot metal vapours.")
    .version(PROGRAM_VERSION)
    .showSuggestionAfterError(true)
    .showHelpAfterError(false)
    .exitOverride()
    .configureOutput({ writeErr: () => undefined });
  for (const make of [
    indexCommand,
    vapourCommand,
    forecastCommand,
    readCommand,
    diagnoseCommand,
    seriesCommand,
    spectrumCommand,
    checkCommand,
    sweepCommand,
    chooseCommand,
    elementsCommand,
    toleranceCommand,
    prismCommand,
    benchCommand,
    runsheetCommand,
    notebookCommand,
    reportCommand,
    openCommand,
    dataCommand,
    schemaCommand,
  ]) {
    const command = make();
    command.exitOverride().configureOutput({ writeErr: () => undefined });
    root.addCommand(command);
  }
  return root;
}

/**
 * Runs one command line.
 * @returns the exit code: 0 done, 2 the input is at fault (one sentence on stderr), 1 the program is at fault
 */
export async function run(args: readonly string[]): Promise<number> {
  try {
    await program().parseAsync(["node", "crossprism", ...args]);
    return 0;
  } catch (error) {
    if (error instanceof Refusal) {
      process.stderr.write(`${oneLine(error.message)}\n`);
      if (args.includes("--json")) print(toJson({ refusal: error.record }));
      return 2;
    }
    if (error instanceof Interrupted) return 130;
    if (error instanceof BadNews) {
      process.stderr.write(`${oneLine(error.message)}\n`);
      return 2;
    }
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0;
      if (error.code === "commander.help") {
        process.stderr.write(program().helpInformation());
        return 2;
      }
      const sentence = oneLine(error.message.replace(/^error: /, ""));
      process.stderr.write(
        `${sentence.endsWith(")") || sentence.endsWith(".") ? sentence : `${sentence}.`}\n`,
      );
      return 2;
    }
    const message = error instanceof Error ? error.message : String(error);
    process.stderr.write(
      `crossprism is at fault: ${oneLine(message)}. Please report it with the command you gave.\n`,
    );
    if (process.env["CROSSPRISM_TRACE"] === "1" && error instanceof Error)
      process.stderr.write(`${error.stack ?? ""}\n`);
    return 1;
  }
}

function oneLine(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}

const entered = process.argv[1];
if (entered !== undefined && realpathSync(entered) === fileURLToPath(import.meta.url)) {
  process.exitCode = await run(process.argv.slice(2));
}
