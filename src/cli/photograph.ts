/** The frames of one photograph, as commands that look at one take them from the command line. */

import { type Command, Option } from "commander";
import {
  averageFrames,
  evenMosaic,
  flattened,
  type Frame,
  type Turn,
  mosaicFactors,
  TURNS,
  turned,
} from "../picture/index.ts";
import { parseQuantity, Refusal } from "../quantity/index.ts";
import {
  type Area,
  type DiagnosisInput,
  type HandMarks,
  heightScale,
  lampLinesFromNames,
  parseMarks,
  turnedFrames,
  turnWanted,
} from "../reading/index.ts";
import { type JsonObject, parseJsonObject, type Setup } from "../setup/index.ts";
import { readFrame, readText } from "./files.ts";
import { type MeansOfFiles, meansOfFiles, namingFiles } from "./frame-means.ts";
import { openSetup, repeat } from "./setup-file.ts";

export interface PhotographOptions {
  readonly setup: string;
  /** files of one kind of frame; several are averaged */
  readonly cold?: readonly string[];
  readonly moved?: string;
  readonly slitMoved?: string;
  readonly lamp?: readonly string[];
  readonly dark?: readonly string[];
  readonly flat?: readonly string[];
  readonly lampLines?: string;
  readonly turn?: Turn;
  readonly region?: string;
  readonly marks?: string;
  readonly set: string[];
}

/** What the files of one photograph hold. */
export interface Photograph {
  readonly setup: Setup;
  /** the setup file's own JSON, overrides in it */
  readonly document: JsonObject;
  readonly input: DiagnosisInput;
}

const HOT =
  "photograph with the tube hot: PNG, JPEG, TIFF or FITS; several of the same bench are averaged, outliers left out";

/** @param pictures what the command's pictures are and what it does with several of them */
export function photographOptions(command: Command, pictures = HOT): Command {
  return command
    .argument("<pictures...>", pictures)
    .requiredOption("--setup <file>", "setup file of the bench that made it")
    .option(
      "--cold <file>",
      "the same with the tube cold; as --lamp, --dark and --flat: repeat it for several frames, averaged with outliers left out",
      repeat,
    )
    .option("--moved <file>", "cold again, the level slit moved by --slit-moved: measures the height scale")
    .option("--slit-moved <length>", 'how far the level slit was moved up, such as "0.2 mm"')
    .option("--lamp <file>", "a line lamp through the plumb slit; repeatable", repeat)
    .option("--dark <file>", "the same with the light shut off; repeatable", repeat)
    .option(
      "--flat <file>",
      "the same optics evenly lit: takes out dust and uneven pixels; repeatable",
      repeat,
    )
    .option(
      "--lamp-lines <names>",
      'lamps and single lines, such as "Ar,Ne" or "763.7208 nm vacuum, 435.83 nm air"',
    )
    .addOption(new Option("--turn <how>", "turn all frames first").choices(TURNS))
    .option("--region <columns,rows>", 'look only there, such as "100-899,50-349", counted from 0')
    .option(
      "--marks <file>",
      "JSON of trace points set, moved or struck by hand, and two marks of the wavelength scale",
    )
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, []);
}

/**
 * Opens setup and frames, looks at them, and names a refused frame by its file.
 * @param means handed on from picture to picture where many are read with the same other frames
 */
export async function withPhotograph<T>(
  pictures: readonly string[],
  options: PhotographOptions,
  look: (input: DiagnosisInput) => T,
  means = meansOfFiles(),
): Promise<Photograph & { readonly result: T }> {
  const photograph = await openPhotograph(pictures, options, "crossed", means);
  const files = { ...filesOf(options), hot: pictures[0] };
  return { ...photograph, result: namingFiles(files, () => look(photograph.input)) };
}

export async function openPhotograph(
  pictures: readonly string[],
  options: PhotographOptions,
  kind: "crossed" | "spectrum" = "crossed",
  means = meansOfFiles(),
): Promise<Photograph> {
  together(
    options.lampLines,
    options.lamp,
    "--lamp-lines",
    "names of lines without a lamp frame",
    "--lamp FILE beside it",
  );
  together(
    options.lamp,
    options.lampLines,
    "--lamp",
    "a lamp frame without its lines",
    '--lamp-lines beside it, such as "Ar,Ne"',
  );
  together(
    options.moved,
    options.slitMoved,
    "--moved",
    "a frame without the slit's shift",
    '--slit-moved beside it, such as "0.2 mm"',
  );
  together(
    options.slitMoved,
    options.moved,
    "--slit-moved",
    "a shift of the slit without the frame taken then",
    "--moved FILE beside it",
  );
  together(options.moved, options.cold, "--moved", "a frame without the cold one", "--cold FILE beside it");
  const { setup, document } = await openSetup(options.setup, options.set);
  const stored = await framesOf(pictures, options, setup, means);
  const marks = await marksOf(options);
  if (options.turn !== undefined && marks?.turn !== undefined && marks.turn !== options.turn)
    throw new Refusal({
      code: "turns-clash",
      field: "--turn",
      received: options.turn,
      expected: `${marks.turn}, as the frames were turned when the marks were set, or no --turn`,
    });
  const lampLines =
    options.lampLines === undefined
      ? {}
      : { lampLines: lampLinesFromNames(options.lampLines, "--lamp-lines") };
  // Who names a turn, or measures a plain spectrum, has frames that stand as they should.
  const turn =
    options.turn !== undefined || kind === "spectrum"
      ? "none"
      : namingFiles({ ...filesOf(options), hot: pictures[0] }, () =>
          turnWanted({ ...stored, ...lampLines, ...(marks === undefined ? {} : { marks }), setup }),
        );
  const frames = turnedFrames(stored, turn);
  const { dark, cold } = frames;
  const moved = stored.moved && turned(stored.moved, turn);
  const scale =
    moved === undefined || cold === undefined
      ? undefined
      : heightScale({
          cold,
          moved,
          shift: parseQuantity(options.slitMoved ?? "", "m", "--slit-moved"),
          ...(dark === undefined ? {} : { dark }),
          setup,
        });
  const { moved: _moved, ...seen } = frames;
  const input: DiagnosisInput = {
    ...seen,
    ...lampLines,
    ...(marks === undefined ? {} : { marks }),
    ...(scale === undefined ? {} : { heightScale: scale }),
    setup,
  };
  return { setup, document, input };
}

function together(one: unknown, other: unknown, field: string, received: string, expected: string): void {
  if (one !== undefined && other === undefined)
    throw new Refusal({
      code: "option-alone",
      field,
      received,
      expected,
    });
}

type Frames = Pick<DiagnosisInput, "hot" | "meanOf" | "cold" | "coldMeanOf" | "lamp" | "dark" | "frames"> & {
  readonly moved?: Frame;
};

/** All frames, turned, flat-fielded, the hot ones made into one. */
async function framesOf(
  pictures: readonly string[],
  options: PhotographOptions,
  setup: Setup,
  means: MeansOfFiles,
): Promise<Frames> {
  const { gamma } = setup.camera;
  const turn = options.turn ?? "none";
  const raw = await Promise.all(pictures.map(readFrame));
  // The pattern of a mosaic goes by the file, so before any turn; all frames with the same factors.
  const mosaic = setup.camera.sensor?.filter === "bayer" && raw[0].channels === 1;
  const factors = mosaic ? mosaicFactors(raw[0], pictures[0]) : undefined;
  const upright = (frame: Frame): Frame => turned(factors ? evenMosaic(frame, factors) : frame, turn);
  const open = async (paths: readonly string[] | undefined): Promise<Frame | undefined> =>
    paths === undefined ? undefined : upright(await means(paths, gamma));
  const several = raw.map(upright);
  const { cold: colds = [] } = options;
  const moves = options.moved === undefined ? undefined : [options.moved];
  const [cold, moved, lamp, dark, flat] = await Promise.all(
    [options.cold, moves, options.lamp, options.dark, options.flat].map(open),
  );
  const stored = several[0].depth;
  // A mean is 16 bits deep; the camera's other frames then must say their gamma themselves.
  const own = (frame: Frame | undefined): Frame | undefined =>
    frame === undefined || frame.depth !== stored || frame.gamma !== undefined || gamma === 1
      ? frame
      : { ...frame, gamma };
  // Refused frames are named by their files: the pictures by their number, the others by their option.
  const named = {
    ...filesOf(options),
    ...Object.fromEntries(pictures.map((path, k) => [`frame ${k + 1}`, path])),
  };
  return namingFiles(named, () => {
    const even = (frame: Frame): Frame => (flat === undefined ? frame : flattened(frame, flat, gamma, dark));
    const hot = several.map(even).map((frame) => own(frame) as Frame);
    const rest = {
      cold: own(cold && even(cold)),
      moved: own(moved && even(moved)),
      lamp: own(lamp),
      dark: own(dark),
    };
    return {
      ...Object.fromEntries(Object.entries(rest).filter(([, frame]) => frame !== undefined)),
      hot: averageFrames(hot, gamma).frame,
      ...(hot.length > 1 ? { meanOf: hot.length, frames: hot } : {}),
      ...(colds.length > 1 ? { coldMeanOf: colds.length } : {}),
    };
  });
}

async function marksOf(options: PhotographOptions): Promise<HandMarks | undefined> {
  const file = options.marks;
  const marks = file === undefined ? {} : parseMarks(parseJsonObject(await readText(file), file), file);
  const region = options.region === undefined ? marks.region : regionOf(options.region);
  if (file === undefined && region === undefined) return undefined;
  return { ...marks, ...(region === undefined ? {} : { region }) };
}

function regionOf(text: string): Area {
  const match = /^\s*(\d+)\s*-\s*(\d+)\s*,\s*(\d+)\s*-\s*(\d+)\s*$/.exec(text);
  const [left, right, top, bottom] = (match ?? []).slice(1).map(Number);
  if (match !== null && right > left && bottom > top) return { columns: [left, right], rows: [top, bottom] };
  throw new Refusal({
    code: "bad-region",
    field: "--region",
    received: JSON.stringify(text),
    expected: 'first to last column and row, such as "100-899,50-349"',
  });
}

/** Files by the part of the reading that they are. */
function filesOf({ cold, moved, lamp, dark, flat }: PhotographOptions): Record<string, string | undefined> {
  const said = (paths: readonly string[] | undefined): string | undefined => paths?.join(", ");
  return {
    cold: said(cold),
    moved,
    lamp: said(lamp),
    dark: said(dark),
    flat: said(flat),
    region: "--region",
  };
}

/** What a result was made from, for its record: files by their part. */
export function framesUsed(pictures: readonly string[], options: PhotographOptions) {
  const { setup, cold, moved, lamp, dark, flat, marks } = options;
  return { hot: pictures, cold, moved, lamp, dark, flat, marks, setup };
}
