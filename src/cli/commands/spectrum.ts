import { Command } from "commander";
import { formatWithUncertainty, parseQuantity } from "../../quantity/index.ts";
import { type DarkLine, type DarkLines, readDarkLines } from "../../reading/index.ts";
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
  return photographOptions(
    new Command("spectrum"),
    "spectrum with the vapour in the light: PNG, JPEG, TIFF or FITS; several of the same bench are averaged, outliers left out",
  )
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

/** Growth below which a width hardly tells its column: the column's error is more than three times the width's. */
const FLAT = 0.3;

function words({ lines, separation, assumptions }: DarkLines): string {
  const shown = ({ value, standardUncertainty }: DarkLine["equivalentWidth"], unit: string): string =>
    formatWithUncertainty(value, standardUncertainty, unit, { plain: true });
  const flat = lines.flatMap(({ line, growth }) =>
    growth !== null && growth < FLAT ? [{ line, growth }] : [],
  );
  const rows = lines.map((line) => [
    line.line,
    line.columnDensity === null ? "" : shown(line.wavelength, "m"),
    shown(line.equivalentWidth, "m"),
    line.columnDensity === null ? "not seen" : shown(line.columnDensity, "m-2"),
    line.growth === null ? "" : digits(line.growth, 2),
  ]);
  return [
    table([["line", "stands at", "equivalent width", "column density", "growth"], ...rows]),
    separation === null ? "separation: fewer than two lines seen" : `separation ${shown(separation, "m")}`,
    "in brackets the standard uncertainty of the last two digits",
    ...flat.map(
      ({ line, growth }) =>
        `mind: ${line} is black in its middle and has no wings yet: 1 % of its width is ${(1 / growth).toFixed(0)} % of its column`,
    ),
    ...assumptions.map((assumption) => `assumed: ${assumption}`),
  ].join("\n");
}
