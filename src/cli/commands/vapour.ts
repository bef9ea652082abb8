import { Command } from "commander";
import { formatQuantity, Refusal } from "../../quantity/index.ts";
import { type Setup, type VapourStage, vapourStage } from "../../setup/index.ts";
import {
  readyTime,
  type ShellInput,
  type ShellState,
  type WarmUp,
  wallReadings,
  warmUp,
} from "../../vessel/index.ts";
import { digits, print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

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
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: { set: string[]; minutes?: string; json?: boolean }) => {
      const { setup } = await openSetup(path, options.set);
      const minutes = options.minutes === undefined ? undefined : minutesOf(options.minutes, setup);
      const run = setup.shell === undefined ? undefined : shellRun(setup.shell, minutes);
      const kept = run?.kept;
      const stage = vapourStage(setup, kept === undefined ? {} : { shell: kept });
      const result = vapourResult(setup, stage, run?.warm);
      print(options.json === true ? toJson(result) : words(result));
    });
}

/** s, followed from cold: longer than most tubes need to stand still. */
const WARM_UP = 4 * 3600;

/** The warm-up from the room's temperature, and the shell at the minute asked for. */
function shellRun(
  shell: ShellInput,
  minutes: number | undefined,
): { readonly warm: WarmUp; readonly kept: ShellState | undefined } {
  const at = minutes === undefined ? undefined : minutes * 60;
  const warm = warmUp(shell, {
    duration: Math.max(WARM_UP, at ?? 0),
    ...(at === undefined ? {} : { keep: [at] }),
  });
  return { warm, kept: warm.kept[0] };
}

function minutesOf(text: string, setup: Setup): number {
  const minutes = Number(text);
  const bad = !(minutes >= 0 && minutes <= 1440) || text.trim() === "";
  if (!bad && setup.shell !== undefined) return minutes;
  throw new Refusal({
    code: bad ? "bad-value" : "no-heater",
    field: "--minutes",
    received: `"${text}"${bad ? "" : " with a wall of measured temperatures"}`,
    expected: bad
      ? "minutes from 0 to 1440"
      : "a setup that gives vessel.heater, whose warm-up can be followed",
  });
}

/** Wall, heat and warm-up of a setup with a heater. */
function shellResult(state: ShellState, warm: WarmUp) {
  return {
    wall: wallReadings(state),
    balance: state.balance,
    readyAfter: readyTime(warm),
    warmUp: { time: warm.time, bottom: warm.bottom, top: warm.top, ends: warm.ends, outlet: warm.outlet },
  };
}

export function vapourResult(setup: Setup, stage: VapourStage, warm?: WarmUp) {
  const { numbers, middle, columns } = stage;
  return {
    onAxis: { density: numbers.density, gasTemperature: numbers.gasTemperature },
    columnDensity: middle.columnDensity,
    columnGradient: middle.columnGradient,
    gasColumnGradient: middle.gasColumnGradient,
    scaleHeight: numbers.scaleHeight,
    supersaturation: Math.max(...columns.supersaturation),
    hotPressure: numbers.hotPressure,
    rayleigh: numbers.rayleigh,
    knudsen: numbers.knudsen,
    chargeLife: numbers.chargeLife,
    beam: {
      height: columns.heights,
      columnDensity: columns.columnDensity,
      columnGradient: columns.columnGradient,
      gasColumnGradient: columns.gasColumnGradient,
    },
    ...(stage.shell === undefined || warm === undefined ? {} : { shell: shellResult(stage.shell, warm) }),
    warnings: numbers.warnings,
    provenance: provenanceOf(setup),
  };
}

function words(result: ReturnType<typeof vapourResult>): string {
  const rows = [
    ["density at the beam", `${digits(result.onAxis.density)} m-3`],
    ["gas temperature there", formatQuantity(result.onAxis.gasTemperature, "K", { as: "degC" })],
    ["column density", `${digits(result.columnDensity)} m-2`],
    ["column gradient", `${digits(result.columnGradient)} m-3`],
    ["column gradient of the gas", `${digits(result.gasColumnGradient)} m-3`],
    ["scale height", formatQuantity(result.scaleHeight, "m")],
    ["largest supersaturation on the beam", digits(result.supersaturation, 3)],
    ["pressure while hot", formatQuantity(result.hotPressure, "Pa")],
    ["Rayleigh number", digits(result.rayleigh, 3)],
    ["Knudsen number", digits(result.knudsen, 3)],
    [
      "charge lasts",
      result.chargeLife === null
        ? "no end in sight: no charge stated, or the metal runs back"
        : `${digits(result.chargeLife / 3600, 3)} h`,
    ],
  ];
  if (result.shell !== undefined) rows.push(...shellRows(result.shell));
  return [table(rows), ...result.warnings.map((warning) => `mind: ${warning.sentence}`)].join("\n");
}

function shellRows({ wall, balance, readyAfter }: ReturnType<typeof shellResult>): string[][] {
  const celsius = (kelvin: number): string => formatQuantity(kelvin, "K", { as: "degC" });
  const watts = (value: number): string => `${digits(value, 3)} W`;
  const outlet = (name: string, kelvin: number | null): string[][] =>
    kelvin === null ? [] : [[`liquid leaves the ${name} at`, celsius(kelvin)]];
  return [
    ["wall below, at mid-length", celsius(wall.bottom)],
    ["wall above, at mid-length", celsius(wall.top)],
    ["wall at the windows", celsius(wall.ends)],
    ["heat into the wall", watts(balance.heater)],
    ["lost below", watts(balance.strip)],
    ["lost above", watts(balance.top)],
    ["lost at the ends", watts(balance.ends)],
    ["of these to liquid", watts(balance.liquid)],
    ["still warming the tube", watts(Math.abs(balance.stored) < 1e-3 ? 0 : balance.stored)],
    ...outlet("top", balance.topOutlet),
    ...outlet("ends", balance.endOutlet),
    [
      "steady",
      readyAfter === null
        ? "not within four hours"
        : `ready after ${digits(readyAfter / 60, 3)} min from cold`,
    ],
  ];
}
