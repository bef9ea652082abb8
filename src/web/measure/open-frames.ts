/** From dropped files to what the reading room takes. */
import { decodePicture, evenMosaic, type Frame, meanFrame, mosaicFactors } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { lampLinesFromNames, type ReadingInput, turnedFrames, turnWanted } from "../../reading/index.ts";
import { examineSetup, type JsonObject, type Setup } from "../../setup/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import { Faults } from "../worker/faults.ts";
import type { Frames } from "./protocol.ts";

/** @throws Faults with everything that is wrong with it */
export function openSetup(text: SetupText | JsonObject): Setup {
  const { setup, faults } = examineSetup(text as JsonObject);
  if (setup === undefined) throw new Faults(faults);
  return setup;
}

type Others = Omit<Frames, "hot"> & { readonly setup: SetupText };

/** @throws Faults for the setup, Refusal for a file that is no picture or a lamp whose lines are not named */
export async function openFrames(request: Frames & { readonly setup: SetupText }): Promise<ReadingInput> {
  // The hot frame first: where several files are no pictures, it is the one that is named.
  const [hot, others] = await Promise.all([frameOf(request.hot), openOthers(request)]);
  return uprighted(evened({ ...others, hot }, request.hot.name));
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
    Promise.all(request.dark.map(frameOf)),
  ]);
  return {
    ...(cold === undefined ? {} : { cold }),
    ...(lamp === undefined ? {} : { lamp, lampLines: lampLinesFromNames(request.lampLines) }),
    ...(dark.length === 0 ? {} : { dark: meanFrame(dark, "dark") }),
    setup,
  };
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
