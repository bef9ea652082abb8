import { Command } from "commander";
import { formatQuantity, parseQuantity } from "../../quantity/index.ts";
import { type DarkLines, readDarkLines } from "../../reading/index.ts";
import { readFrame } from "../files.ts";
import { digits, print, table, toJson } from "../output.ts";
import { framesUsed, openPhotograph, type PhotographOptions, photographOptions } from "../photograph.ts";
import { provenanceOf } from "../provenance.ts";

interface Options extends PhotographOptions {
  readonly reference?: string;
  readonly temperature?: string;
  readonly json?: boolean;
}

export function spectrumCommand(): Command {
  return photographOptions(new Command("spectrum"))
    .description(
      "dark lines of a flame or a cell in white light: equivalent width, column density, separation",
    )
    .option("--reference <file>", "the same without the vapour; left out, the picture of --cold")
    .option("--temperature <temperature>", 'of the vapour, such as "2000 K"; else the setup\'s')
    .option("--json", "one JSON document on stdout")
    .action(async (pictures: string[], options: Options) => {
      const { input, setup } = await openPhotograph(pictures, options, "spectrum");
      const { hot, cold, dark, lamp, lampLines, marks } = input;
      const reference = options.reference === undefined ? cold : await readFrame(options.reference);
      const result = readDarkLines({
        picture: hot,
        ...(reference === undefined ? {} : { reference }),
        ...(dark === undefined ? {} : { dark }),
        ...(lamp === undefined ? {} : { lamp }),
        ...(lampLines === undefined ? {} : { lampLines }),
        ...(marks === undefined ? {} : { marks }),
        ...(options.temperature === undefined
          ? {}
          : { temperature: parseQuantity(options.temperature, "K", "--temperature") }),
        setup,
      });
      const record = {
        files: { ...framesUsed(pictures, options), reference: options.reference },
        provenance: provenanceOf(setup),
      };
      print(options.json === true ? toJson({ ...result, ...record }) : words(result));
    });
}

function words({ lines, separation, assumptions }: DarkLines): string {
  const metres = (v: number): string => formatQuantity(v, "m", { digits: 4 });
  const rows = lines.map((line) => [
    line.line,
    `${(line.wavelength.value * 1e9).toFixed(3)} nm`,
    `${metres(line.equivalentWidth.value)} ± ${metres(line.equivalentWidth.standardUncertainty)}`,
    line.columnDensity === null
      ? "not seen"
      : `${digits(line.columnDensity.value)} ± ${digits(line.columnDensity.standardUncertainty, 2)} m-2`,
    line.growth === null ? "" : digits(line.growth, 2),
  ]);
  return [
    table([["line", "stands at", "equivalent width", "column density", "growth"], ...rows]),
    separation === null
      ? "separation: fewer than two lines seen"
      : `separation ${metres(separation.value)} ± ${metres(separation.standardUncertainty)}`,
    ...assumptions.map((assumption) => `assumed: ${assumption}`),
  ].join("\n");
}
