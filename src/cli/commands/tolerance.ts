import { Command } from "commander";
import { formatQuantity } from "../../quantity/index.ts";
import {
  OUTCOMES,
  type Spread,
  type ToleranceAnswer,
  toleranceAnswer,
  type ToleranceJob,
  toleranceJob,
} from "../../plan/index.ts";
import type { Setup } from "../../setup/index.ts";
import { digits, print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";
import { wholeNumber, type WorkOptions, withWorkOptions, workOn } from "../work-options.ts";

interface Options extends WorkOptions {
  readonly error: string[];
  readonly together: string[];
  readonly draws: string;
  readonly seed: string;
  readonly set: string[];
  readonly json?: boolean;
}

export function toleranceCommand(): Command {
  const command = new Command("tolerance")
    .description(
      "how errors of setting and of knowledge spread into height, gap, separation and the density that is read",
    )
    .argument("<setup>", "setup file")
    .option(
      "--error <field=size>",
      'standard uncertainty of a field or of knowledge, such as "vessel.bottom=3 K", "path.focalLength=1 %", "knowledge.pressure=5 %"; repeatable; without any the usual ones',
      repeat,
      [],
    )
    .option(
      "--together <a,b=coefficient>",
      'correlation of two inputs, such as "vessel.bottom,vessel.top=0.8"; repeatable',
      repeat,
      [],
    )
    .option("--draws <number>", "random draws; 0 gives the first-order budget alone", "1000")
    .option("--seed <number>", "seed of the draws", "1")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout");
  return withWorkOptions(command).action(async (path: string, options: Options) => {
    const { setup } = await openSetup(path, options.set);
    const job = toleranceJob(setup, {
      inputs: options.error,
      correlations: options.together,
      draws: wholeNumber(options.draws, "--draws", 0, 1_000_000),
      seed: wholeNumber(options.seed, "--seed", 0, 4294967295),
    });
    const answer = toleranceAnswer(job, await workOn(job, options));
    print(options.json === true ? toJson(toleranceResult(setup, job, answer)) : words(job, answer));
  });
}

export function toleranceResult(setup: Setup, job: ToleranceJob, answer: ToleranceAnswer) {
  return {
    inputs: job.inputs,
    readAt: job.readAt,
    draws: job.draws,
    seed: job.seed,
    outcomes: answer.spreads,
    refused: answer.refused,
    firstRefusal: answer.firstRefusal,
    provenance: provenanceOf(setup),
  };
}

/** Outcomes that a person asks about first. */
const TOLD = ["height", "halfGap", "pairDistance", "pairTimes", "density", "asRead"];

function words(job: ToleranceJob, answer: ToleranceAnswer): string {
  const rows = [["", "as set", "first order ±", "draws ±", "16 % to 84 %", "improve first"]];
  for (const name of TOLD) {
    const spread = answer.spreads[name];
    if (spread !== undefined) rows.push(row(name, spread));
  }
  const height = answer.spreads["height"];
  const budget = (height?.firstOrder.shares ?? [])
    .filter((share) => Math.abs(share.share) >= 0.005)
    .map((share) => [
      share.input,
      `${Math.round(100 * share.share)} %`,
      `${digits((100 * Math.abs(share.contribution)) / (height?.nominal ?? 1), 2)} %`,
    ]);
  const curved = TOLD.filter((name) => answer.spreads[name]?.nonlinear);
  return [
    table(rows),
    "",
    table([["height: input", "of the variance", "moves it by"], ...budget]),
    "",
    ...job.inputs.map(
      (input) => `${input.name}: ± ${shownUncertainty(input.standard, input.unit)} (${input.source})`,
    ),
    ...(curved.length > 0
      ? [
          `mind: the draws of ${curved.map(labelOf).join(", ")} do not follow the first-order budget; trust the draws`,
        ]
      : []),
    ...(answer.firstRefusal === null
      ? []
      : [`mind: ${answer.refused} draws lay outside what can be answered, first: ${answer.firstRefusal}`]),
  ].join("\n");
}

function labelOf(name: string): string {
  return name === "asRead"
    ? "the density as read"
    : (OUTCOMES.find((each) => each.name === name)?.label ?? name);
}

/** A temperature's uncertainty is a difference: kelvin, whatever its scale. */
function shownUncertainty(value: number, unit: string): string {
  return formatQuantity(value, unit, { digits: 3 });
}

function row(name: string, spread: Spread): string[] {
  const word = OUTCOMES.find((each) => each.name === name);
  const unit = word?.unit ?? "1";
  const shown = (value: number): string => formatQuantity(value, unit, { digits: 3 });
  const { draws } = spread;
  return [
    name === "asRead" ? "density read / there" : labelOf(name),
    shown(spread.nominal),
    shown(spread.firstOrder.standardUncertainty),
    draws === null ? "" : shown(draws.standardDeviation),
    draws === null ? "" : `${shown(draws.quantiles[1])} to ${shown(draws.quantiles[3])}`,
    spread.improveFirst ?? "",
  ];
}
