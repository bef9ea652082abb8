/** Entries that a person makes at the bench: setups in versions, runs, temperatures, remarks, pictures, reports. */

import { parseQuantity, Refusal } from "../quantity/index.ts";
import { canonicalJson } from "../setup/fingerprint.ts";
import { fingerprint, isObject, type JsonObject, parseSetup } from "../setup/index.ts";
import type {
  Entry,
  LinkRole,
  NewCommon,
  NewPicture,
  NewRemark,
  NewRun,
  NewSetup,
  NewTemperatures,
} from "./contract.ts";
import { PICTURE_ROLES } from "./contract.ts";
import type { Draft, Notebook } from "./notebook.ts";

type Links = NonNullable<Draft["links"]>;

/** What may be said beside any entry, as the draft has it. */
export function commonOf(given: NewCommon): Pick<Draft, "at" | "by" | "text"> {
  return {
    ...(given.at === undefined ? {} : { at: given.at }),
    ...(given.by === undefined ? {} : { by: given.by }),
    ...(given.text === undefined ? {} : { text: given.text }),
  };
}

/** Links by role, without those not given. */
export function linksOf(given: Readonly<Partial<Record<LinkRole, string | undefined>>>): Links {
  return Object.entries(given).flatMap(([role, to]) =>
    to === undefined ? [] : [{ role: role as LinkRole, to }],
  );
}

/**
 * Keeps a setup as the next version of its name. The same file again adds nothing.
 * @returns the entry that now stands for it
 * @throws Refusal where the setup is refused
 */
export function addSetup(notebook: Notebook, given: NewSetup): Entry {
  const setup = parseSetup(given.document);
  const name = given.name ?? setup.title;
  if (name.trim() === "") throw empty("name", "a name for the setup, or a title in it");
  const same = notebook.latestSetup(name);
  if (same !== undefined && canonicalJson(same.body["document"]) === canonicalJson(given.document))
    return same;
  return notebook.add(() => {
    const previous = notebook.latestSetup(name);
    const version = previous === undefined ? 1 : Number(previous.body["version"]) + 1;
    return {
      ...commonOf(given),
      kind: "setup",
      title: `${name}, version ${version}`,
      element: setup.vessel.element,
      body: { name, version, fingerprint: fingerprint(setup), document: given.document },
      links: linksOf({ previous: previous?.uid, corrects: given.corrects }),
    };
  });
}

/** The setup file that an entry holds. */
export function documentOf(setup: Entry): JsonObject {
  const document = setup.body["document"];
  if (!isObject(document)) throw new Error(`entry ${setup.uid} holds no setup file`);
  return document;
}

export function startRun(notebook: Notebook, given: NewRun): Entry {
  if (given.title.trim() === "") throw empty("title", "a title for the run");
  const setup = notebook.getKind(given.setup, "setup", "setup");
  return notebook.add({
    ...commonOf(given),
    kind: "run",
    title: given.title,
    element: setup.element,
    links: linksOf({ setup: setup.uid, corrects: given.corrects }),
  });
}

/** @throws Refusal where a temperature is no temperature */
export function logTemperatures(notebook: Notebook, given: NewTemperatures): Entry {
  const run = notebook.getKind(given.run, "run", "run");
  const temperatures: { [place: string]: number } = {};
  for (const [place, value] of Object.entries(given.temperatures)) {
    temperatures[place] = kelvinOf(value, place);
  }
  const places = Object.keys(temperatures);
  if (places.length === 0) throw empty("temperatures", 'places with temperatures, such as bottom="290 degC"');
  return notebook.add({
    ...commonOf(given),
    kind: "temperatures",
    title: places.map((place) => `${place} ${(temperatures[place] - 273.15).toFixed(1)} °C`).join(", "),
    element: run.element,
    body: { temperatures },
    links: linksOf({ run: run.uid, corrects: given.corrects }),
  });
}

function kelvinOf(value: string | number, place: string): number {
  const kelvin = typeof value === "number" ? value : parseQuantity(value, "K", place);
  if (Number.isFinite(kelvin) && kelvin > 0 && kelvin < 10_000) return kelvin;
  throw new Refusal({
    code: "bad-temperature",
    field: place,
    received: String(value),
    expected: 'a temperature between 0 K and 10000 K, such as "290 degC"',
  });
}

export function addRemark(notebook: Notebook, given: NewRemark): Entry {
  if (given.text.trim() === "") throw empty("text", "words to be kept");
  const run = given.run === undefined ? undefined : notebook.getKind(given.run, "run", "run");
  const first = given.text.split("\n", 1)[0];
  return notebook.add({
    ...commonOf(given),
    kind: "remark",
    title: given.title ?? (first.length > 80 ? `${first.slice(0, 79)}…` : first),
    element: run?.element ?? "",
    links: linksOf({ run: run?.uid, corrects: given.corrects }),
  });
}

/**
 * Keeps a picture or film with its original bytes.
 * @param bytes the file as it came from the camera
 */
export function addPicture(notebook: Notebook, bytes: Uint8Array, given: NewPicture): Entry {
  if (bytes.length === 0) throw empty("picture", "a file that is not empty");
  if (!PICTURE_ROLES.includes(given.role)) {
    throw new Refusal({
      code: "unknown-role",
      field: "role",
      received: JSON.stringify(given.role),
      expected: `one of ${PICTURE_ROLES.join(", ")}`,
    });
  }
  const run = given.run === undefined ? undefined : notebook.getKind(given.run, "run", "run");
  return notebook.add({
    ...commonOf(given),
    kind: "picture",
    title: `${given.role}: ${given.name}`,
    element: run?.element ?? "",
    body: { role: given.role, exposure: given.exposure ?? null, details: given.details ?? {} },
    links: linksOf({ run: run?.uid, corrects: given.corrects }),
    files: [{ part: "original", name: given.name, bytes }],
  });
}

export interface NewReport extends NewCommon {
  readonly title: string;
  readonly run?: string;
  /** readings it tells of */
  readonly readings?: readonly string[];
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[];
}

/** Keeps a finished report: its pages as files, and which run and readings it tells of. */
export function addReport(notebook: Notebook, given: NewReport): Entry {
  const run = given.run === undefined ? undefined : notebook.getKind(given.run, "run", "run");
  const readings = (given.readings ?? []).map((to) => notebook.getKind(to, "reading", "reading"));
  return notebook.add({
    ...commonOf(given),
    kind: "report",
    title: given.title,
    element: run?.element ?? readings[0]?.element ?? "",
    links: [
      ...linksOf({ run: run?.uid, corrects: given.corrects }),
      ...readings.map(({ uid }) => ({ role: "reading" as const, to: uid })),
    ],
    files: given.files.map(({ name, bytes }, i) => ({ part: `page ${i + 1}`, name, bytes })),
  });
}

function empty(field: string, expected: string): Refusal {
  return new Refusal({ code: "empty", field, received: "nothing", expected });
}
