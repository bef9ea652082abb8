/** From dropped files to what the reading room takes. */
import { averageFrames, decodePicture, evenMosaic, type Frame, mosaicFactors } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import {
  lampLinesFromNames,
  parseMarks,
  type ReadingInput,
  turnedFrames,
  turnWanted,
} from "../../reading/index.ts";
import { examineSetup, type JsonObject, type Setup } from "../../setup/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import { Faults } from "../worker/faults.ts";
import type { Frames, ReadRequest } from "./protocol.ts";

/** @throws Faults with everything that is wrong with it */
export function openSetup(text: SetupText | JsonObject): Setup {
  const { setup, faults } = examineSetup(text as JsonObject);
  if (setup === undefined) throw new Faults(faults);
  return setup;
}

/** A photograph's frames, its setup, and what was marked on it by hand. */
type Photograph = Pick<ReadRequest, "setup" | "marks" | keyof Frames>;
type Others = Omit<Frames, "hot"> & { readonly setup: SetupText };

/** @throws Faults for the setup, Refusal for a file that is no picture or a lamp whose lines are not named */
export async function openFrames(request: Photograph): Promise<ReadingInput> {
  // The hot frame first: where several files are no pictures, it is the one that is named.
  const [hot, others] = await Promise.all([frameOf(request.hot), openOthers(request)]);
  const marks = request.marks === undefined ? {} : { marks: parseMarks(request.marks) };
  return uprighted(evened({ ...others, hot, ...marks }, request.hot.name));
}

/** The setup and all frames but the hot one, which of a film there are many of. @throws as openFrames */
export async function openOthers(request: Others): Promise<Omit<ReadingInput, "hot">> {
  const setup = openSetup(request.setup);
  if (request.lamp !== undefined && request.lampLines.trim() === "")
    throw new Refusal({
      code: "lamp-without-lines",
      field: "lines of the lamp",
      received: "nothing",
      expected: 'names such as "Ar, Ne" or lines such as "763.72 nm vacuum"',
    });
  const opened = (file: File | undefined): Promise<Frame | undefined> =>
    file === undefined ? Promise.resolve(undefined) : frameOf(file);
  const [cold, lamp, dark] = await Promise.all([
    opened(request.cold),
    opened(request.lamp),
    request.dark.length === 0 ? undefined : meanOf(request.dark, setup.camera.gamma),
  ]);
  return {
    ...(cold === undefined ? {} : { cold }),
    ...(lamp === undefined ? {} : { lamp, lampLines: lampLinesFromNames(request.lampLines) }),
    ...(dark === undefined ? {} : { dark }),
    setup,
  };
}

/** Several files of one kind of frame made into one. @throws Refusal that names the file which is not of the first one's kind */
async function meanOf(files: readonly File[], gamma: number): Promise<Frame> {
  const frames = await Promise.all(files.map(frameOf));
  try {
    return averageFrames(frames, gamma).frame;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const other = files.find((_, k) => error.record.field === `frame ${k + 1}`);
    throw new Refusal({ ...error.record, field: other?.name ?? error.record.field });
  }
}

/** A mosaic's frames with its colours evened, all by the factors of the hot one. @throws Refusal where a colour is blind to the light */
function evened(input: ReadingInput, name: string): ReadingInput {
  const { hot, cold, lamp, dark, setup } = input;
  if (setup.camera.sensor?.filter !== "bayer" || hot.channels !== 1) return input;
  const factors = mosaicFactors(hot, name);
  const even = (frame: Frame): Frame => evenMosaic(frame, factors);
  return {
    ...input,
    hot: even(hot),
    ...(cold === undefined ? {} : { cold: even(cold) }),
    ...(lamp === undefined ? {} : { lamp: even(lamp) }),
    ...(dark === undefined ? {} : { dark: even(dark) }),
  };
}

/** All frames turned as their lines say where the picture lies on its side. @throws Refusal where they do not tell */
export function uprighted(input: ReadingInput): ReadingInput {
  return turnedFrames(input, turnWanted(input));
}

export async function frameOf(file: File): Promise<Frame> {
  return decodePicture(new Uint8Array(await file.arrayBuffer()), file.name);
}
