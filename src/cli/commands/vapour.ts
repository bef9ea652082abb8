import { Command } from "commander";
import {
  heaterSteps,
  heatingSeries,
  type Setup,
  USUAL_DURATION,
  vapourStage,
  wallAtMinute,
} from "../../setup/index.ts";
import { type PowerStep, type VapourSeries, warmUp, type WarmUp, warmUpCsv } from "../../vessel/index.ts";
import { writeAll } from "../files.ts";
import { minutesOf, powerSteps } from "../heating-options.ts";
import { print, toJson } from "../output.ts";
import { openSetup, repeat } from "../setup-file.ts";
import { adviceFor, adviceWords } from "../vapour-advice.ts";
import { vapourFields, vapourFigures } from "../vapour-files.ts";
import { vapourResult, vapourWords } from "../vapour-result.ts";
import { sensitivitiesOf, sensitivityWords } from "../vapour-sensitivities.ts";

interface Options {
  readonly set: string[];
  readonly minutes?: string;
  readonly power: string[];
  readonly warmUp?: string;
  readonly figures?: string;
  readonly fields?: string;
  readonly advise?: boolean;
  readonly sensitivities?: boolean;
  readonly json?: boolean;
}

export function vapourCommand(): Command {
  return new Command("vapour")
    .description(
      "temperature and density of the vapour, its columns along the beam, and how long the charge lasts",
    )
    .argument("<setup>", "setup file")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option(
      "--minutes <n>",
      "so many minutes after the heater is switched on; only for a setup with a heater",
    )
    .option("--power <time=power>", 'the heater from then on, such as "40 min=0 W"; repeatable', repeat, [])
    .option("--warm-up <folder>", "warm-up.csv: wall, density and columns minute by minute; needs a heater")
    .option("--figures <folder>", "figures of wall, temperature, density, supersaturation and beam as SVG")
    .option("--fields <folder>", "the solved fields: slices as CSV, whole arrays as .npy")
    .option("--advise", "how cool the top need be for the full bend, and whether air is enough")
    .option(
      "--sensitivities",
      "which thermocouple matters: what each temperature, pressure and length does to the columns",
    )
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: Options) => {
      const { setup } = await openSetup(path, options.set);
      const later = powerSteps(options.power);
      const minute = minuteOf(setup, later, options.minutes);
      const stage = vapourStage(setup, minute.shell === undefined ? {} : { shell: minute.shell });
      const series = seriesFor(setup, later, options);
      const result = vapourResult(setup, stage, minute.run, series);
      const advice = options.advise === true ? adviceFor(setup) : undefined;
      const found = options.sensitivities === true ? sensitivitiesOf(setup) : undefined;
      if (options.warmUp !== undefined && series !== undefined)
        await writeAll(options.warmUp, { "warm-up.csv": warmUpCsv(series) });
      if (options.figures !== undefined) await writeAll(options.figures, vapourFigures(setup, stage, series));
      if (options.fields !== undefined) await writeAll(options.fields, vapourFields(stage));
      if (options.json === true)
        print(
          toJson({
            ...result,
            ...(advice === undefined ? {} : { advice }),
            ...(found === undefined ? {} : { sensitivities: found }),
          }),
        );
      else
        print(
          [
            vapourWords(result),
            ...(advice === undefined ? [] : [adviceWords(advice)]),
            ...(found === undefined ? [] : [sensitivityWords(found, result.columnDensity)]),
          ].join("\n"),
        );
    });
}

/** The run from cold of a setup with a heater, and the wall at the minute asked for. */
function minuteOf(
  setup: Setup,
  later: readonly PowerStep[],
  minutes: string | undefined,
): { readonly run?: WarmUp; readonly shell?: ReturnType<typeof wallAtMinute>["shell"] } {
  if (minutes !== undefined) return wallAtMinute(setup, minutesOf(minutes), later, "--minutes");
  if (setup.shell === undefined) return {};
  return { run: warmUp(setup.shell, { duration: USUAL_DURATION, steps: heaterSteps(setup.shell, later) }) };
}

/** Two hours, or an hour beyond the last step of the power, every two minutes or so. */
function seriesFor(setup: Setup, later: readonly PowerStep[], options: Options): VapourSeries | undefined {
  const wanted = options.warmUp !== undefined || (options.figures !== undefined && setup.shell !== undefined);
  if (!wanted) return undefined;
  const last = later.reduce((latest, step) => Math.max(latest, step.from), 3600);
  return heatingSeries(setup, last + 3600, later, 61, "--warm-up").series;
}
