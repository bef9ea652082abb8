import { Command } from "commander";
import { airToVacuum, type BufferGas, type LineStructure } from "../../medium/index.ts";
import { parseQuantity, Refusal } from "../../quantity/index.ts";
import { writeAll } from "../files.ts";
import { mediumAnswer } from "../index-medium.ts";
import { type IndexAnswer, vapourAnswer } from "../index-vapour.ts";
import type { Shown } from "../index-words.ts";
import { mediumNamed } from "../medium-choice.ts";
import { print, toJson } from "../output.ts";
import { repeat } from "../setup-file.ts";

interface Options {
  readonly element?: string;
  readonly medium?: string;
  readonly twoOscillators?: boolean;
  readonly output?: string;
  readonly temperature?: string;
  readonly density?: string;
  readonly saturatedAt?: string;
  readonly from?: string;
  readonly to?: string;
  readonly points?: string;
  readonly at: string[];
  readonly gas?: string;
  readonly lines: string;
  readonly layer?: string;
  readonly lamp?: string;
  readonly mantle?: string;
  readonly resolution: string;
  readonly air?: boolean;
  readonly json?: boolean;
}

const MOST_POINTS = 1_000_000;

export function indexCommand(): Command {
  return new Command("index")
    .description(
      "n - 1, absorption, phase velocity and group index of a vapour or another medium over wavelengths",
    )
    .option("--element <symbol>", "the metal of a vapour, such as K; this or --medium")
    .option(
      "--medium <words>",
      'water, air, "air 90000 Pa at 293 K", "glass 517642", "Ar 5000 Pa at 300 K", "oscillators FILE" or "dye FILE"',
    )
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
    .option(
      "--two-oscillators",
      "beside it the two strongest lines as plain oscillators, and how far they differ",
    )
    .option(
      "--layer <thickness>",
      'a layer of the vapour this thick, such as "20 mm", before an ordinary spectroscope: the line it shows',
    )
    .option("--lamp <temperature>", "brightness temperature of the lamp behind the layer; left out, no lamp")
    .option("--mantle <words>", 'a cooler layer before it, such as "1500 K 1e18 m-3 5 mm": self-reversal')
    .option("--resolution <length>", "what the spectroscope tells apart, full width at half height", "0.1 nm")
    .option(
      "-o, --output <folder>",
      "folder for index.csv, index.svg, index.json and, with a layer, layer.svg",
    )
    .option("--air", "take and give wavelengths in standard air")
    .option("--json", "one JSON document on stdout")
    .action(async (options: Options) => {
      const wavelengths = wavelengthsOf(options);
      const air = options.air === true;
      const shown: Shown = { wavelengths, countedIn: air ? "air" : "vacuum" };
      const answer = await answerOf(options, air ? wavelengths.map(airToVacuum) : wavelengths, shown);
      const document = toJson(answer.document);
      const files: string[] = [];
      if (options.output !== undefined) {
        await writeAll(options.output, {
          "index.csv": answer.csv,
          "index.svg": answer.figure(),
          "index.json": document,
          ...answer.more,
        });
        files.push(
          `${["index.csv", "index.svg", ...Object.keys(answer.more ?? {})].join(", ")} and index.json stand in ${options.output}`,
        );
      }
      print(options.json === true ? document : [answer.words, ...files].join("\n"));
    });
}

async function answerOf(options: Options, wavelengths: Float64Array, shown: Shown): Promise<IndexAnswer> {
  const { element, medium } = options;
  if (medium !== undefined && element === undefined) {
    refuseVapourOptions(options);
    return mediumAnswer(await mediumNamed(medium), wavelengths, shown);
  }
  if (element === undefined || medium !== undefined)
    throw new Refusal({
      code: "element-or-medium",
      field: "--element",
      received: element === undefined ? "neither --element nor --medium" : "both --element and --medium",
      expected: "exactly one of --element and --medium",
    });
  const given = {
    element,
    wavelengths,
    structure: structureOf(options.lines),
    ...quantity("temperature", options.temperature, "K", "--temperature"),
    ...quantity("density", options.density, "m-3", "--density"),
    ...quantity("saturatedAt", options.saturatedAt, "K", "--saturated-at"),
    ...(options.gas === undefined ? {} : { gas: gasOf(options.gas) }),
  };
  const spectroscope = options.layer === undefined ? undefined : { ...options, layer: options.layer };
  return vapourAnswer(given, shown, options.twoOscillators === true, spectroscope);
}

/** Options that mean nothing for another medium are refused, not passed over. */
function refuseVapourOptions(options: Options): void {
  const given = {
    "--temperature": options.temperature,
    "--density": options.density,
    "--saturated-at": options.saturatedAt,
    "--gas": options.gas,
    "--two-oscillators": options.twoOscillators,
    "--layer": options.layer,
  };
  for (const [name, value] of Object.entries(given)) {
    if (value === undefined) continue;
    throw new Refusal({
      code: "vapour-option",
      field: name,
      received: "it together with --medium",
      expected: "it together with --element only",
      hint: 'a gas says its own state, such as "Ar 5000 Pa at 300 K"',
    });
  }
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
