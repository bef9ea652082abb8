/** Proves a notebook: nothing altered, nothing missing, every stored number made again from what is stored. */

import { fingerprint, isObject, type Json, type JsonObject, parseSetup } from "../setup/index.ts";
import { Refusal } from "../quantity/index.ts";
import { documentOf } from "./bench-entries.ts";
import { blobState } from "./blobs.ts";
import { compare, type Comparison, type Difference } from "./compare.ts";
import { keptFrames } from "./computed-entries.ts";
import type { Entry, EntryKind, LinkRole } from "./contract.ts";
import type { Notebook } from "./notebook.ts";
import { digestOf } from "./record.ts";
import {
  type Decode,
  forecastResult,
  planResult,
  readAgain,
  readingResult,
  type ReadOptions,
} from "./recompute.ts";

/** Relative difference up to which another machine's arithmetic explains it: elementary functions may differ in the last bits, and a fit carries that on. */
export const CLOSE = 1e-9;

export type VerifyState = "same" | "close" | "different" | "impossible";

export interface VerifiedEntry {
  readonly uid: string;
  readonly kind: EntryKind;
  readonly title: string;
  /** "same" to the last bit; "close" within CLOSE; "impossible" where it cannot be recomputed, with the reason */
  readonly state: VerifyState;
  readonly compared: number;
  readonly differences: readonly Difference[];
  /** why not, or what changed since: "" for nothing to say */
  readonly remark: string;
}

export interface Verification {
  readonly entries: number;
  readonly files: number;
  /** what is wrong with the store itself, one sentence each: altered entries, missing files, faults of the database */
  readonly damage: readonly string[];
  /** every entry with computed numbers, in the order they were written */
  readonly verified: readonly VerifiedEntry[];
  /** numbers, words and flags recomputed and compared */
  readonly compared: number;
  /** nothing damaged, and all the same or close */
  readonly good: boolean;
}

/**
 * @param decode turns kept pictures into samples
 * @param progress told after each entry
 */
export async function verifyNotebook(
  notebook: Notebook,
  decode: Decode,
  progress: (done: number) => void = () => undefined,
): Promise<Verification> {
  const stored = notebook.stored();
  const damage = [...stored.faults()];
  const verified: VerifiedEntry[] = [];
  const files = new Map<string, boolean>();
  let entries = 0;
  for (const entry of notebook.all()) {
    if (digestOf(entry) !== stored.digest(entry.id))
      damage.push(`entry ${entry.uid} is not as it was written`);
    for (const file of entry.files) {
      if (files.has(file.sha256)) continue;
      const state = blobState(notebook.folder, file.sha256, file.media);
      files.set(file.sha256, state === "whole");
      if (state !== "whole")
        damage.push(`file ${file.sha256} (${file.name}) of entry ${entry.uid} is ${state}`);
    }
    const again = await recomputed(notebook, entry, decode);
    if (again !== undefined) verified.push(again);
    entries += 1;
    progress(entries);
  }
  verified.sort((a, b) => (a.uid < b.uid ? -1 : 1));
  return {
    entries,
    files: files.size,
    damage: damage.sort(),
    verified,
    compared: verified.reduce((sum, each) => sum + each.compared, 0),
    good: damage.length === 0 && verified.every(({ state }) => state === "same" || state === "close"),
  };
}

async function recomputed(
  notebook: Notebook,
  entry: Entry,
  decode: Decode,
): Promise<VerifiedEntry | undefined> {
  try {
    const comparison = await compareAgain(notebook, entry, decode);
    return comparison && judged(entry, comparison);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { ...named(entry), state: "impossible", compared: 0, differences: [], remark: error.message };
  }
}

async function compareAgain(
  notebook: Notebook,
  entry: Entry,
  decode: Decode,
): Promise<Comparison | undefined> {
  const { body } = entry;
  const setup = (): Entry => linked(notebook, entry, "setup") ?? missing(entry, "setup");
  switch (entry.kind) {
    case "setup":
      return compare(
        { fingerprint: body["fingerprint"] ?? null },
        { fingerprint: fingerprint(parseSetup(documentOf(entry))) },
      );
    case "reading": {
      const pictures = {
        hot: linked(notebook, entry, "hot") ?? missing(entry, "hot"),
        ...given("cold", linked(notebook, entry, "cold")),
        ...given("lamp", linked(notebook, entry, "lamp")),
        ...given("dark", linked(notebook, entry, "dark")),
      };
      const { frames, hashes } = await keptFrames(notebook, pictures, decode);
      const lampLines = typeof body["lampLines"] === "string" ? body["lampLines"] : "";
      const options = (isObject(body["options"]) ? body["options"] : {}) as ReadOptions;
      const reading = readAgain(documentOf(setup()), frames, lampLines, options);
      return compare(
        { result: body["result"] ?? null, pictures: picturesOf(body) },
        { result: readingResult(reading), pictures: hashes },
      );
    }
    case "forecast":
      return compare(body["result"] ?? null, forecastResult(documentOf(setup()), body["cold"] === true));
    case "plan":
      return compare(body["result"] ?? null, planResult(documentOf(setup())));
    default:
      return undefined;
  }
}

function picturesOf(body: JsonObject): Json {
  const { provenance } = body;
  return isObject(provenance) ? (provenance["pictures"] ?? null) : null;
}

function linked(notebook: Notebook, entry: Entry, role: LinkRole): Entry | undefined {
  const link = entry.links.find((each) => each.role === role);
  return link && notebook.get(link.to);
}

function given<R extends string>(role: R, entry: Entry | undefined): { [key in R]?: Entry } {
  return (entry === undefined ? {} : { [role]: entry }) as { [key in R]?: Entry };
}

function missing(entry: Entry, role: string): never {
  throw new Refusal({
    code: "no-link",
    field: entry.uid,
    received: `a ${entry.kind} without its ${role}`,
    expected: `a link to the ${role} it was made from`,
  });
}

function judged(entry: Entry, { compared, differences }: Comparison): VerifiedEntry {
  const close = differences.every(({ relative }) => relative !== null && relative <= CLOSE);
  const state = differences.length === 0 ? "same" : close ? "close" : "different";
  return { ...named(entry), state, compared, differences, remark: "" };
}

function named({ uid, kind, title }: Entry): Pick<VerifiedEntry, "uid" | "kind" | "title"> {
  return { uid, kind, title };
}
