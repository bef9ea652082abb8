/**
 * Metadata of an exported notebook: RO-Crate 1.1, https://w3id.org/ro/crate/1.1 (structure, "Root Data Entity", "Data
 * Entities", "Provenance", appendix "RO-Crate JSON-LD"): flat JSON-LD, one object for each file, person and program.
 */

import { PROGRAM_VERSION } from "../setup/index.ts";
import type { Entry } from "./contract.ts";

export const METADATA_NAME = "ro-crate-metadata.json";
export const SPECIFICATION = "https://w3id.org/ro/crate/1.1";

/** A file of the crate, as its metadata describe it. */
export interface CrateFile {
  /** path within the crate, "/" between folders */
  readonly path: string;
  readonly name: string;
  readonly description: string;
  readonly media: string;
  readonly bytes: number;
  readonly sha256: string;
}

export interface CrateAbout {
  readonly name: string;
  readonly description: string;
  /** ISO 8601 */
  readonly date: string;
  /** address of a licence, or words on how the crate may be used */
  readonly license: string;
}

export interface Reference {
  readonly "@id": string;
}
export type Property = string | Reference | readonly (string | Reference)[];
export interface Entity {
  readonly "@id": string;
  readonly "@type": string;
  readonly [property: string]: Property;
}
export interface Metadata {
  readonly "@context": readonly unknown[];
  readonly "@graph": readonly Entity[];
}

const PROGRAM_ID = "#crossprism";

/** @param computed path of the file that holds an entry's computed numbers, and those of the files it was made from */
export function crateMetadata(
  about: CrateAbout,
  files: readonly CrateFile[],
  entries: readonly Entry[],
  computed: readonly { readonly entry: Entry; readonly path: string; readonly from: readonly string[] }[],
): Metadata {
  const people = [...new Set(entries.map(({ by }) => by).filter((by) => by !== ""))].sort();
  const licensed = /^https?:\/\//.test(about.license);
  const graph: Entity[] = [
    {
      "@id": METADATA_NAME,
      "@type": "CreativeWork",
      conformsTo: { "@id": SPECIFICATION },
      about: { "@id": "./" },
      description: "Metadata of this crate (this file)",
    },
    {
      "@id": "./",
      "@type": "Dataset",
      name: about.name,
      description: about.description,
      datePublished: about.date,
      license: licensed ? { "@id": about.license } : about.license,
      ...some(
        "author",
        people.map((name) => ref(personId(name))),
      ),
      ...some(
        "hasPart",
        files.map(({ path }) => ref(idOf(path))),
      ),
      ...some(
        "mentions",
        computed.map(({ entry }) => ref(`#made-${entry.uid}`)),
      ),
    },
    ...files.map((file) => fileEntity(file)),
    ...people.map((name): Entity => ({ "@id": personId(name), "@type": "Person", name })),
    ...computed.map(({ entry, path, from }) => action(entry, path, from)),
  ];
  if (computed.length > 0) {
    const program = { "@id": PROGRAM_ID, "@type": "SoftwareApplication" };
    graph.push({ ...program, name: "crossprism", version: PROGRAM_VERSION });
  }
  if (licensed) graph.push({ "@id": about.license, "@type": "CreativeWork", name: about.license });
  return {
    // The digest of a file is no term of the specification's own context, so it is added here.
    "@context": [`${SPECIFICATION}/context`, { sha256: "http://schema.org/sha256" }],
    "@graph": graph,
  };
}

function fileEntity(file: CrateFile): Entity {
  return {
    "@id": idOf(file.path),
    "@type": "File",
    name: file.name,
    description: file.description,
    encodingFormat: file.media,
    contentSize: String(file.bytes),
    sha256: file.sha256,
  };
}

/** "Software used to create files": what made a file of numbers, from which files. */
function action(entry: Entry, path: string, from: readonly string[]): Entity {
  return {
    "@id": `#made-${entry.uid}`,
    "@type": "CreateAction",
    name: entry.title,
    endTime: entry.recorded,
    instrument: ref(PROGRAM_ID),
    ...some(
      "object",
      from.map((each) => ref(idOf(each))),
    ),
    result: ref(idOf(path)),
    ...(entry.by === "" ? {} : { agent: ref(personId(entry.by)) }),
  };
}

/** "Encoding file paths": a URI path, with what is special in one escaped and letters of all languages as they are. */
export function idOf(path: string): string {
  return path.replace(/[%\s"<>\\^`{|}?#[\]]/g, (sign) => encodeURIComponent(sign));
}

function personId(name: string): string {
  return `#person-${idOf(name.replaceAll("/", "-"))}`;
}

function ref(id: string): Reference {
  return { "@id": id };
}

/** Compacted form: a list of one is its one member, and an empty list is left out. */
function some(name: string, values: readonly Reference[]): { [name: string]: Property } {
  if (values.length === 0) return {};
  return { [name]: values.length === 1 ? values[0] : values };
}
