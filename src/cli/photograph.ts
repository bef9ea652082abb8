/** The frames of one photograph, as commands that look at one take them from the command line. */

import type { Command } from "commander";
import { Refusal } from "../quantity/index.ts";
import { lampLinesFromNames, type ReadingInput } from "../reading/index.ts";
import type { Setup } from "../setup/index.ts";
import { readFrame } from "./files.ts";
import { openSetup, repeat } from "./setup-file.ts";

export interface PhotographOptions {
  readonly setup: string;
  readonly cold?: string;
  readonly lamp?: string;
  readonly dark?: string;
  readonly lampLines?: string;
  readonly set: string[];
}

export function photographOptions(command: Command): Command {
  return command
    .argument("<picture>", "photograph with the tube hot: PNG, JPEG or TIFF")
    .requiredOption("--setup <file>", "setup file of the bench that made it")
    .option("--cold <file>", "the same with the tube cold")
    .option("--lamp <file>", "a line lamp through the plumb slit")
    .option("--dark <file>", "the same with the light shut off")
    .option(
      "--lamp-lines <names>",
      'lamps and single lines, such as "Ar,Ne" or "763.7208 nm vacuum, 435.83 nm air"',
    )
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, []);
}

/** Opens setup and frames, looks at them, and names a refused frame by its file. */
export async function withPhotograph<T>(
  picture: string,
  options: PhotographOptions,
  look: (input: ReadingInput) => T,
): Promise<{ readonly result: T; readonly setup: Setup; readonly input: ReadingInput }> {
  if (options.lampLines !== undefined && options.lamp === undefined) {
    throw new Refusal({
      code: "lines-without-lamp",
      field: "--lamp-lines",
      received: "names of lines without a lamp frame",
      expected: "--lamp FILE beside it",
    });
  }
  if (options.lamp !== undefined && options.lampLines === undefined) {
    throw new Refusal({
      code: "lamp-without-lines",
      field: "--lamp",
      received: "a lamp frame without its lines",
      expected: '--lamp-lines beside it, such as "Ar,Ne"',
    });
  }
  const { setup } = await openSetup(options.setup, options.set);
  const [hot, cold, lamp, dark] = await Promise.all([
    readFrame(picture),
    optional(options.cold),
    optional(options.lamp),
    optional(options.dark),
  ]);
  const input: ReadingInput = {
    hot,
    ...(cold === undefined ? {} : { cold }),
    ...(lamp === undefined ? {} : { lamp }),
    ...(dark === undefined ? {} : { dark }),
    ...(options.lampLines === undefined
      ? {}
      : { lampLines: lampLinesFromNames(options.lampLines, "--lamp-lines") }),
    setup,
  };
  return { result: namingFiles({ ...options, hot: picture }, () => look(input)), setup, input };
}

/** A frame that is refused is named by its file, not by its part in the reading. */
function namingFiles<T>(
  files: Readonly<Partial<Record<"hot" | "cold" | "lamp" | "dark", string>>>,
  read: () => T,
): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const part = error.record.field as "hot" | "cold" | "lamp" | "dark";
    throw new Refusal({ ...error.record, field: files[part] ?? error.record.field });
  }
}

async function optional(path: string | undefined) {
  return path === undefined ? undefined : readFrame(path);
}
