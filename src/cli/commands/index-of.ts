import { Command } from "commander";
import {
  airToVacuum,
  type BufferGas,
  type IndexTable,
  indexTable,
  type LineStructure,
} from "../../medium/index.ts";
import { formatQuantity, parseQuantity, Refusal } from "../../quantity/index.ts";
import { digits, print, table, toJson } from "../output.ts";
import { repeat } from "../setup-file.ts";

interface Options {
  readonly element: string;
  readonly temperature?: string;
  readonly density?: string;
  readonly saturatedAt?: string;
  readonly from?: string;
  readonly to?: string;
  readonly points?: string;
  readonly at: string[];
  readonly gas?: string;
  readonly lines: string;
  readonly air?: boolean;
  readonly json?: boolean;
}

const MOST_POINTS = 1_000_000;

export function indexCommand(): Command {
  return new Command("index")
    .description("n - 1, absorption, phase velocity and group index of a vapour over wavelengths")
    .requiredOption("--element <symbol>", "the metal, such as K")
    .option("--temperature <quantity>", 'gas temperature, such as "450 K"; defaults to --saturated-at')
    .option("--density <quantity>", 'number density, such as "5e20 m-3"')
    .option(
      "--saturated-at <quantity>",
      "density from the vapour pressure over the metal at this temperature",
    )
    .option("--from <wavelength>", 'start of a range, such as "765 nm"')
    .option("--to <wavelength>", "end of the range")
    .option("--points <number>", "wavelengths in the range, evenly spaced", "601")
    .option("--at <wavelength>", "a single wavelength; repeatable", repeat, [])
    .option(
      "--gas <species and pressure>",
      'buffer gas, such as "Ar 5000 Pa": widens the lines and adds its own index',
    )
    .option("--lines <structure>", "hyperfine or merged", "hyperfine")
    .option("--air", "take and give wavelengths in standard air")
    .option("--json", "one JSON document on stdout")
    .action((options: Options) => {
      const shown = wavelengthsOf(options);
      const wavelengths = options.air === true ? shown.map(airToVacuum) : shown;
      const result = indexTable({
        element: options.element,
        wavelengths,
        structure: structureOf(options.lines),
        ...quantity("temperature", options.temperature, "K", "--temperature"),
        ...quantity("density", options.density, "m-3", "--density"),
        ...quantity("saturatedAt", options.saturatedAt, "K", "--saturated-at"),
        ...(options.gas === undefined ? {} : { gas: gasOf(options.gas) }),
      });
      const { saturation: _saturation, ...rest } = result;
      if (options.json === true)
        print(toJson({ ...rest, wavelength: shown, medium: options.air === true ? "air" : "vacuum" }));
      else print(words(result, shown, options.air === true));
    });
}

function quantity<K extends string>(
  key: K,
  text: string | undefined,
  unit: string,
  option: string,
): { readonly [P in K]?: number } {
  return (text === undefined ? {} : { [key]: parseQuantity(text, unit, option) }) as {
    readonly [P in K]?: number;
  };
}

function structureOf(text: string): LineStructure {
  if (text === "hyperfine" || text === "merged") return text;
  throw new Refusal({
    code: "unknown-structure",
    field: "--lines",
    received: JSON.stringify(text),
    expected: "hyperfine or merged",
  });
}

function gasOf(text: string): BufferGas {
  const at = text.trim().indexOf(" ");
  if (at < 1)
    throw new Refusal({
      code: "bad-gas",
      field: "--gas",
      received: JSON.stringify(text),
      expected: 'a gas and its pressure, such as "Ar 5000 Pa"',
    });
  return {
    species: text.trim().slice(0, at),
    pressure: parseQuantity(text.trim().slice(at + 1), "Pa", "--gas"),
  };
}

/** Wavelengths as asked for, m, in air or vacuum as the person counts them. */
function wavelengthsOf(options: Options): Float64Array {
  const single = options.at.map((text) => parseQuantity(text, "m", "--at"));
  if (options.from === undefined && options.to === undefined) {
    if (single.length === 0) {
      throw new Refusal({
        code: "no-wavelengths",
        field: "--at",
        received: "no wavelength",
        expected: "--at WAVELENGTH, or --from and --to",
      });
    }
    return Float64Array.from(single);
  }
  if (options.from === undefined || options.to === undefined) {
    throw new Refusal({
      code: "half-a-range",
      field: options.from === undefined ? "--from" : "--to",
      received: "nothing",
      expected: "both ends of the range",
    });
  }
  const from = parseQuantity(options.from, "m", "--from");
  const to = parseQuantity(options.to, "m", "--to");
  const points = Number(options.points);
  if (!Number.isInteger(points) || points < 2 || points > MOST_POINTS) {
    throw new Refusal({
      code: "bad-points",
      field: "--points",
      received: String(options.points),
      expected: `a whole number from 2 to ${MOST_POINTS}`,
    });
  }
  if (!(from < to))
    throw new Refusal({
      code: "empty-range",
      field: "--to",
      received: options.to,
      expected: `a wavelength longer than --from, ${options.from}`,
    });
  const range = Float64Array.from({ length: points }, (_, i) =>
    i === points - 1 ? to : from + ((to - from) * i) / (points - 1),
  );
  return single.length === 0 ? range : Float64Array.from([...range, ...single]);
}

function words(result: IndexTable, shown: Float64Array, air: boolean): string {
  const rows = [
    [
      `wavelength, nm ${air ? "air" : "vacuum"}`,
      "n - 1",
      "absorption, 1/m",
      "phase velocity, c",
      "group index",
    ],
  ];
  for (let i = 0; i < shown.length; i++) {
    rows.push([
      (shown[i] * 1e9).toFixed(5),
      digits(result.refractivity[i], 5),
      digits(result.absorption[i], 5),
      result.phaseVelocity[i].toFixed(9),
      result.groupIndex[i].toFixed(6),
    ]);
  }
  const state = `${result.element} at ${formatQuantity(result.temperature, "K")}, ${digits(result.density)} m-3; both velocities may exceed c near a line, the front never does`;
  return [table(rows), state, ...result.warnings.map((warning) => `mind: ${warning.sentence}`)].join("\n");
}
