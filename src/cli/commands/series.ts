import { readdir, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { Command } from "commander";
import { Refusal } from "../../quantity/index.ts";
import { writeAll } from "../files.ts";
import { framesOfFilm, isFilm, isPlainFilm } from "../film-frames.ts";
import { digits, print, table, toJson } from "../output.ts";
import { framesUsed, type PhotographOptions, photographOptions } from "../photograph.ts";
import { provenanceOf } from "../provenance.ts";
import { type ReadingsJob, readingsCsv, readingsNpy, type TableRow, VERDICTS } from "../readings.ts";
import { readTogether, type Together } from "../read-together.ts";
import { openSetup } from "../setup-file.ts";
import { wholeNumber, type WorkOptions, withWorkOptions, workOn } from "../work-options.ts";

interface Options extends PhotographOptions, WorkOptions {
  readonly every: string;
  readonly output?: string;
  readonly array?: string;
  readonly shared?: boolean;
  readonly json?: boolean;
}

/** From 44 drawn frames of VP9 and H.264 films: docs/reading-campaign.md, "Coded films". */
const CODED =
  "mind: a film's coding smooths noise and faint light together, which no model of the camera describes: its frames read fair or poor even where all is well; in drawn films their gradients were off by 0.7 % (half) and up to 3.5 % (nine of ten), densities by 1.6 and 4.2 %; judge by the combined uncertainties, or take stills or an uncompressed film (.y4m)";
const PICTURE = /\.(png|jpe?g|tiff?|fits?|fts)$/i;

export function seriesCommand(): Command {
  const command = photographOptions(
    new Command("series"),
    "photographs with the tube hot, each read by itself: files (PNG, JPEG, TIFF or FITS), folders of them, films",
  )
    .description("read a folder of pictures or a film, each picture by itself, into one table")
    .option("--every <number>", "take every n-th frame or picture", "1")
    .option("-o, --output <file>", "the table as CSV, units in the header")
    .option("--array <file>", "the same as a NumPy array of records (.npy)")
    .option(
      "--shared",
      "one fit over all pictures: line places, strength ratio, focus, slope and roll in common; in one piece, without --workers and --keep",
    )
    .option("--json", "one JSON document on stdout");
  return withWorkOptions(command).action(async (sources: string[], options: Options) => {
    const { setup } = await openSetup(options.setup, options.set);
    if (options.shared === true && (options.keep !== undefined || options.workers !== undefined))
      throw new Refusal({
        code: "options-clash",
        field: "--shared",
        received: "with --keep or --workers",
        expected: "one or the other: a fit over all pictures is done in one piece",
      });
    const every = wholeNumber(options.every, "--every", 1, 1_000_000);
    const found = await picturesOf(sources, every);
    const { cold: colds = [], lamp: lamps = [], dark: darks = [], flat: flats = [] } = options;
    const others = [...colds, ...lamps, ...darks, ...flats, options.moved, options.marks];
    const stamped = [
      ...found.pictures.map((p) => p.path),
      options.setup,
      ...others.filter((o) => o !== undefined),
    ];
    const { cold, moved, slitMoved, lamp, dark, flat, lampLines, turn, region, marks } = options;
    const together =
      options.shared === true
        ? await readTogether(
            found.pictures.map((p) => p.path),
            options,
          )
        : undefined;
    const job: ReadingsJob = {
      kind: "readings",
      options: JSON.parse(
        JSON.stringify({
          setup: options.setup,
          set: options.set,
          cold,
          moved,
          slitMoved,
          lamp,
          dark,
          flat,
          lampLines,
          turn,
          region,
          marks,
        }),
      ) as PhotographOptions,
      pictures: found.pictures.map((p) => p.path),
      stamps: await Promise.all(stamped.map(async (path) => (found.film ? path : await stampOf(path)))),
    };
    const rows = together?.rows ?? (await workOn(job, options, "pictures"));
    const table: TableRow[] = rows.map((row, k) => ({
      picture: found.pictures[k].name,
      time: found.pictures[k].time,
      row,
    }));
    if (options.output !== undefined)
      await writeAll(dirname(options.output), { [basename(options.output)]: readingsCsv(table) });
    if (options.array !== undefined)
      await writeAll(dirname(options.array), { [basename(options.array)]: readingsNpy(table) });
    await Promise.all(found.folders.map((folder) => rm(folder, { recursive: true, force: true })));
    print(
      options.json === true
        ? toJson({
            ...(together === undefined ? {} : { common: together.common }),
            rows: table.map(({ row, ...rest }) => ({ ...rest, ...row })),
            files: framesUsed(sources, options),
            provenance: provenanceOf(setup),
          })
        : [words(table), ...commonWords(together), ...(found.coded ? [CODED] : [])].join("\n"),
    );
  });
}

/** What all pictures have in common, where they were read by one fit. */
function commonWords(together: Together | undefined): string[] {
  if (together === undefined) return [];
  const rows = together.common.map((p) => [
    p.name === "strength ratio" ? "strength ratio over published" : p.name,
    digits(p.value, 6),
    `± ${digits(p.standardUncertainty, 2)}`,
    p.unit,
  ]);
  return [
    table([["in common", "value", "from noise alone", "unit"], ...rows]),
    `one fit over all pictures: χ² per degree of freedom ${together.reducedChiSquare.toPrecision(3)}${together.converged ? "" : "; it did not come to rest, do not use the numbers"}`,
  ];
}

interface Found {
  readonly pictures: readonly {
    readonly path: string;
    readonly name: string;
    readonly time: number | null;
  }[];
  readonly folders: readonly string[];
  readonly film: boolean;
  /** a film among them was not stored as it was taken */
  readonly coded: boolean;
}

/** Pictures of folders (by name), films (frame by frame) and single files, in the order in which they were named. */
async function picturesOf(sources: readonly string[], every: number): Promise<Found> {
  const pictures: Found["pictures"][number][] = [];
  const folders: string[] = [];
  for (const source of sources) {
    if (isFilm(source)) {
      const film = await framesOfFilm(source, every);
      folders.push(film.folder);
      film.pictures.forEach((path, k) => {
        const time = film.step === null ? null : k * film.step;
        pictures.push({ path, name: `${basename(source)} frame ${k * every}`, time });
      });
      continue;
    }
    const folder = await stat(source).then(
      (s) => s.isDirectory(),
      () => false,
    );
    const names = folder ? (await readdir(source)).filter((name) => PICTURE.test(name)).sort() : null;
    const paths =
      names === null ? [source] : names.map((name) => join(source, name)).filter((_, k) => k % every === 0);
    for (const path of paths) pictures.push({ path, name: basename(path), time: null });
  }
  if (pictures.length === 0)
    throw new Refusal({
      code: "no-pictures",
      field: sources.join(", "),
      received: "a folder without pictures",
      expected: "a folder of PNG, JPEG, TIFF or FITS pictures, or a film",
    });
  const coded = sources.some((source) => isFilm(source) && !isPlainFilm(source));
  return { pictures, folders, film: folders.length > 0, coded };
}

async function stampOf(path: string): Promise<string> {
  const { size, mtimeMs } = await stat(path).catch(() => {
    throw new Refusal({
      code: "no-file",
      field: path,
      received: "no such file",
      expected: "a readable file",
    });
  });
  return `${path} ${size} ${mtimeMs}`;
}

function words(rows: readonly TableRow[]): string {
  const cell = (row: TableRow["row"], name: string): string => {
    const value = "values" in row ? row.values[name] : null;
    return typeof value === "number" ? digits(value) : "";
  };
  const head = ["picture", "column gradient, m-3", "column density, m-2", "strength ratio", "χ²", "verdict"];
  const lines = rows.map(({ picture, row }) => [
    picture,
    cell(row, "column_gradient_m-3"),
    cell(row, "column_density_m-2"),
    cell(row, "strength_ratio_1"),
    cell(row, "chi_square_per_degree_1"),
    "refused" in row ? "refused" : (VERDICTS[row.values.verdict_0good_1fair_2poor ?? -1] ?? ""),
  ]);
  const refused = rows.flatMap(({ row }) => ("refused" in row ? [row.refused] : []));
  return [table([head, ...lines]), ...refused].join("\n");
}
