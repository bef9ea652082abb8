import { Command } from "commander";
import { type DirectVisionInput, largestApex, type PrismReport, prismReport } from "../../path/index.ts";
import { parseQuantity, Refusal } from "../../quantity/index.ts";
import { prismFigure } from "../../report/index.ts";
import { writeAll } from "../files.ts";
import { print, table, toJson } from "../output.ts";
import { repeat } from "../setup-file.ts";

interface Options {
  readonly crown: string;
  readonly flint: string;
  readonly undeviated: string;
  readonly aperture: string;
  readonly flintApex?: string;
  readonly margin: string;
  readonly elements?: string;
  readonly at: string[];
  readonly output?: string;
  readonly json?: boolean;
}

/** Where the table looks by default: the visible, in steps that show the dispersion's fall. */
const USUAL = ["405 nm", "436 nm", "460 nm", "486 nm", "546 nm", "589.3 nm", "656 nm", "700 nm"];
const DEGREE = Math.PI / 180;

/** Fields of the core and the options that they are given by here. */
const OPTION: Readonly<Record<string, string>> = {
  "path.disperser.crown": "--crown",
  "path.disperser.flint": "--flint",
  "path.disperser.flintApex": "--flint-apex",
  "path.disperser.crown.wavelength": "--undeviated or --at",
  "path.disperser.flint.wavelength": "--undeviated or --at",
  margin: "--margin",
};

/** What is refused is named as it was given. */
function inOptions<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    throw new Refusal({ ...error.record, field: OPTION[error.record.field] ?? error.record.field });
  }
}

interface Design {
  readonly elements: 3 | 5;
  readonly report: PrismReport;
}

export function prismCommand(): Command {
  return new Command("prism")
    .description(
      "a direct-vision prism from two glasses: angles, dispersion, loss of light, margin from total reflection, drawing",
    )
    .requiredOption("--crown <code>", "six-digit code of the outer glass, such as 517642")
    .requiredOption("--flint <code>", "six-digit code of the inner glass, such as 728284")
    .option("--undeviated <wavelength>", "vacuum wavelength that goes straight through", "589.3 nm")
    .option("--aperture <length>", "height of the clear beam", "20 mm")
    .option("--flint-apex <angle>", "apex of the flint; left out, the largest that keeps the margin")
    .option("--margin <angle>", "room to leave before total reflection, where the apex is sought", "5 deg")
    .option("--elements <number>", "3 or 5 glasses; left out, both")
    .option("--at <wavelength>", "vacuum wavelength to tell of; repeatable", repeat, [])
    .option("-o, --output <folder>", "folder for prism-3.svg, prism-5.svg and prism.json")
    .option("--json", "one JSON document on stdout")
    .action(async (options: Options) => {
      const wavelengths = (options.at.length === 0 ? USUAL : options.at).map((text) =>
        parseQuantity(text, "m", "--at"),
      );
      const designs = elementsOf(options).map((elements) =>
        inOptions(() => designOf(options, elements, wavelengths)),
      );
      const result = {
        crown: options.crown,
        flint: options.flint,
        wavelength: wavelengths,
        designs: designs.map(({ elements, report }) => ({ elements, ...report })),
      };
      if (options.output !== undefined) {
        const files: Record<string, string> = { "prism.json": toJson(result) };
        for (const { elements, report } of designs) {
          const title = `${elements} glasses: ${options.crown} and ${options.flint}, undeviated ${options.undeviated}`;
          files[`prism-${elements}.svg`] = prismFigure(report, wavelengths, title);
        }
        await writeAll(options.output, files);
      }
      print(
        options.json === true
          ? toJson(result)
          : designs.map((design) => words(design, wavelengths)).join("\n\n"),
      );
    });
}

function elementsOf({ elements }: Options): (3 | 5)[] {
  if (elements === undefined) return [3, 5];
  if (elements === "3") return [3];
  if (elements === "5") return [5];
  throw new Refusal({
    code: "bad-elements",
    field: "--elements",
    received: JSON.stringify(elements),
    expected: "3 or 5",
  });
}

function designOf(options: Options, elements: 3 | 5, wavelengths: readonly number[]): Design {
  const input: Omit<DirectVisionInput, "flintApex"> = {
    kind: "direct-vision",
    crown: options.crown,
    flint: options.flint,
    undeviated: parseQuantity(options.undeviated, "m", "--undeviated"),
    elements,
    trains: 1,
  };
  const aperture = parseQuantity(options.aperture, "m", "--aperture");
  if (!(aperture > 0)) {
    throw new Refusal({
      code: "bad-aperture",
      field: "--aperture",
      received: options.aperture,
      expected: "a length above 0 mm",
    });
  }
  const flintApex =
    options.flintApex === undefined
      ? largestApex(input, wavelengths, parseQuantity(options.margin, "rad", "--margin"))
      : parseQuantity(options.flintApex, "rad", "--flint-apex");
  return { elements, report: prismReport({ ...input, flintApex }, aperture, wavelengths) };
}

function words({ elements, report }: Design, wavelengths: readonly number[]): string {
  const degrees = (angle: number): string => `${(angle / DEGREE).toFixed(2)}°`;
  const cell = (value: number | null, factor: number, digits: number): string =>
    value === null ? "lost" : (value * factor).toFixed(digits);
  const middle = report.middleApex === null ? "" : `, middle crown ${degrees(report.middleApex)}`;
  const rows = [
    [
      "nm vacuum",
      "deviation, °",
      "dispersion, mrad/nm",
      "faces pass",
      "glass passes",
      "beam kept",
      "margin, °",
      "bow at 10 mrad, nm",
    ],
    ...wavelengths.map((w, i) => [
      (w * 1e9).toFixed(1),
      cell(report.deviation[i], 1 / DEGREE, 3),
      cell(report.dispersion[i], 1e-6, 4),
      ...[report.transmission, report.inside, report.kept].map(
        (shares) => `${(100 * shares[i]).toFixed(1)} %`,
      ),
      cell(report.margin[i], 1 / DEGREE, 1),
      cell(report.bow[i], 1e9, 4),
    ]),
  ];
  return [
    `${elements} glasses: outer crown ${degrees(report.crownApex)}, flint ${degrees(report.flintApex)}${middle}, ${(report.length * 1e3).toFixed(1)} mm long, ${(report.height * 1e3).toFixed(1)} mm high`,
    table(rows),
    "faces: every reflection counted once, cement taken as index-matched; glass: absorption along the axis; beam: what stays inside the blocks drawn, which are as high as the whole beam needs at the undeviated wavelength and all of this table",
  ].join("\n");
}
