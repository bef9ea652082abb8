/** Entries that the program computes from what a notebook holds: readings, forecasts, plans. */

import { Refusal } from "../quantity/index.ts";
import { parseSetup, type JsonObject } from "../setup/index.ts";
import { commonOf, documentOf, linksOf } from "./bench-entries.ts";
import type { Entry, NewCommon, NewReading } from "./contract.ts";
import type { Notebook } from "./notebook.ts";
import {
  type Decode,
  forecastResult,
  planResult,
  provenanceOf,
  readAgain,
  type ReadFrames,
  readingResult,
} from "./recompute.ts";

const FRAME_ROLES = ["hot", "cold", "lamp", "dark"] as const;

/** Frames of a reading decoded from the bytes that the notebook keeps, with the SHA-256 of each. */
export async function keptFrames(
  notebook: Notebook,
  pictures: Readonly<Partial<{ [role in (typeof FRAME_ROLES)[number]]: Entry }>>,
  decode: Decode,
): Promise<{ readonly frames: ReadFrames; readonly hashes: Readonly<Record<string, string>> }> {
  const frames: { [role: string]: unknown } = {};
  const hashes: { [role: string]: string } = {};
  for (const role of FRAME_ROLES) {
    const file = pictures[role]?.files.find(({ part }) => part === "original");
    if (file === undefined) continue;
    frames[role] = await decode(notebook.file(file.sha256).bytes, file.name);
    hashes[role] = file.sha256;
  }
  return { frames: frames as unknown as ReadFrames, hashes };
}

/**
 * Reads pictures that the notebook keeps and writes the reading down.
 * @throws Refusal where neither setup nor run is known, or a picture cannot be read, as `readPicture` does
 */
export async function takeReading(notebook: Notebook, given: NewReading, decode: Decode): Promise<Entry> {
  const picture = (role: (typeof FRAME_ROLES)[number]): Entry | undefined => {
    const reference = given[role];
    return reference === undefined ? undefined : notebook.getKind(reference, "picture", role);
  };
  const hot = notebook.getKind(given.hot, "picture", "hot");
  const [cold, lamp, dark] = [picture("cold"), picture("lamp"), picture("dark")];
  const runReference = given.run ?? hot.links.find(({ role }) => role === "run")?.to;
  const run = runReference === undefined ? undefined : notebook.getKind(runReference, "run", "run");
  const setup = notebook.getKind(given.setup ?? setupOf(run), "setup", "setup");
  const { frames, hashes } = await keptFrames(
    notebook,
    {
      hot,
      ...(cold === undefined ? {} : { cold }),
      ...(lamp === undefined ? {} : { lamp }),
      ...(dark === undefined ? {} : { dark }),
    },
    decode,
  );
  const document = documentOf(setup);
  const lampLines = given.lampLines ?? "";
  const options = given.options ?? {};
  const result = readingResult(readAgain(document, frames, lampLines, options));
  return notebook.add({
    ...commonOf(given),
    kind: "reading",
    title: `reading of ${hot.title.replace(/^hot: /, "")}`,
    element: setup.element,
    body: bodyOf({ options, lampLines, result, provenance: provenanceOf(parseSetup(document), hashes) }),
    links: linksOf({
      setup: setup.uid,
      hot: hot.uid,
      cold: cold?.uid,
      lamp: lamp?.uid,
      dark: dark?.uid,
      run: run?.uid,
      corrects: given.corrects,
    }),
  });
}

function setupOf(run: Entry | undefined): string {
  const link = run?.links.find(({ role }) => role === "setup");
  if (link !== undefined) return link.to;
  throw new Refusal({
    code: "no-setup",
    field: "setup",
    received: "none, and a picture without a run",
    expected: "the setup that made the picture, or the run that knows it",
  });
}

export interface NewComputed extends NewCommon {
  readonly setup: string;
  readonly run?: string;
}

/** Forecasts a kept setup and writes the numbers down, with a digest of the predicted picture. */
export function addForecast(notebook: Notebook, given: NewComputed & { readonly cold?: boolean }): Entry {
  const cold = given.cold === true;
  return addComputed(
    notebook,
    given,
    "forecast",
    cold ? "forecast of the cold tube" : "forecast",
    (document) => ({
      cold,
      result: forecastResult(document, cold),
    }),
  );
}

/** Plans a run of a kept setup: cautions, verdict and heating table of its run sheet. */
export function addPlan(notebook: Notebook, given: NewComputed): Entry {
  return addComputed(notebook, given, "plan", "run sheet", (document) => ({ result: planResult(document) }));
}

function addComputed(
  notebook: Notebook,
  given: NewComputed,
  kind: "forecast" | "plan",
  what: string,
  compute: (document: JsonObject) => object,
): Entry {
  const setup = notebook.getKind(given.setup, "setup", "setup");
  const run = given.run === undefined ? undefined : notebook.getKind(given.run, "run", "run");
  const document = documentOf(setup);
  return notebook.add({
    ...commonOf(given),
    kind,
    title: `${what} of ${setup.title}`,
    element: setup.element,
    body: bodyOf({ ...compute(document), provenance: provenanceOf(parseSetup(document)) }),
    links: linksOf({ setup: setup.uid, run: run?.uid, corrects: given.corrects }),
  });
}

/** Plain data by construction; the compiler cannot see that an interface has no other keys. */
function bodyOf(body: object): JsonObject {
  return body as JsonObject;
}
