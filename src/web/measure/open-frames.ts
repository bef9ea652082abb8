/** From dropped files to what the reading room takes. */
import { decodePicture, type Frame, meanFrame } from "../../picture/index.ts";
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

/** @throws Faults for the setup, Refusal for a file that is no picture or a lamp whose lines are not named */
export async function openFrames(request: Frames & { readonly setup: SetupText }): Promise<ReadingInput> {
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
  const [hot, cold, lamp, dark] = await Promise.all([
    frameOf(request.hot),
    opened(request.cold),
    opened(request.lamp),
    Promise.all(request.dark.map(frameOf)),
  ]);
  const input: ReadingInput = {
    hot,
    ...(cold === undefined ? {} : { cold }),
    ...(lamp === undefined ? {} : { lamp, lampLines: lampLinesFromNames(request.lampLines) }),
    ...(dark.length === 0
      ? {}
      : {
          dark: meanFrame(dark, "dark"),
        }),
    setup,
  };
  return turnedFrames(input, turnWanted(input));
}

export async function frameOf(file: File): Promise<Frame> {
  return decodePicture(new Uint8Array(await file.arrayBuffer()), file.name);
}
