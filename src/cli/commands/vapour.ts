import { Command } from "commander";
import { formatQuantity } from "../../quantity/index.ts";
import { type Setup, type VapourStage, vapourStage } from "../../setup/index.ts";
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
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: { set: string[]; json?: boolean }) => {
      const { setup } = await openSetup(path, options.set);
      const result = vapourResult(setup, vapourStage(setup));
      print(options.json === true ? toJson(result) : words(result));
    });
}

export function vapourResult(setup: Setup, stage: VapourStage) {
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
  return [table(rows), ...result.warnings.map((warning) => `mind: ${warning.sentence}`)].join("\n");
}
