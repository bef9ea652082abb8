/** What the notebook's commands share: which notebook, what may be said beside an entry, how an entry is told. */

import type { Command } from "commander";
import { type Entry, type EntryKind, type NewCommon, Notebook } from "../notebook/index.ts";
import { Refusal } from "../quantity/index.ts";
import { print, toJson } from "./output.ts";

export interface InOption {
  readonly in: string;
  readonly json?: boolean;
}

export interface AddOptions extends InOption {
  readonly at?: string;
  readonly by?: string;
  readonly text?: string;
  readonly corrects?: string;
}

/** Thrown where what was asked for is done and the answer, already printed, is bad news: exit code 2. */
export class BadNews extends Error {}

export function inNotebook(command: Command): Command {
  return command
    .option(
      "--in <folder>",
      "the notebook; by default what CROSSPRISM_NOTEBOOK names, or the folder 'notebook'",
      process.env["CROSSPRISM_NOTEBOOK"] ?? "notebook",
    )
    .option("--json", "one JSON document on stdout");
}

export function addingTo(command: Command): Command {
  return inNotebook(command)
    .option("--at <time>", "when it was, such as 2026-03-01T14:05+01:00; now when not given")
    .option("--by <name>", "who writes it")
    .option("--corrects <entry>", "the entry that this one stands in place of; the old one stays");
}

/** Errors are worded by the program, not printed by the parser; it does not hand that on to commands within commands. */
export function quiet(command: Command): void {
  command.exitOverride().configureOutput({ writeErr: () => undefined });
  for (const inner of command.commands) quiet(inner);
}

/** Opens the notebook, and closes it whatever happens. */
export async function within<T>(
  options: InOption,
  act: (notebook: Notebook) => T | Promise<T>,
  readOnly = false,
): Promise<T> {
  const notebook = Notebook.open(options.in, { readOnly });
  try {
    return await act(notebook);
  } finally {
    notebook.close();
  }
}

export function commonOf(options: AddOptions): NewCommon {
  return {
    ...(options.at === undefined ? {} : { at: options.at }),
    ...(options.by === undefined ? {} : { by: options.by }),
    ...(options.text === undefined ? {} : { text: options.text }),
    ...(options.corrects === undefined ? {} : { corrects: options.corrects }),
  };
}

/** "last" means the newest entry of the kind. */
export function meant(notebook: Notebook, reference: string, kind: EntryKind, field: string): string {
  if (reference !== "last") return notebook.getKind(reference, kind, field).uid;
  const [newest] = notebook.find({ kinds: [kind], limit: 1 }).entries;
  if (newest !== undefined) return newest.uid;
  throw new Refusal({
    code: "no-entry",
    field,
    received: `"last" in a notebook without a ${kind}`,
    expected: `a ${kind}`,
  });
}

export function tellAdded(entry: Entry, options: InOption): void {
  print(options.json === true ? toJson(entry) : `entry ${entry.id}: ${entry.kind}, ${entry.title}`);
}
