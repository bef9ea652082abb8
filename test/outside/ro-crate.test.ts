/**
 * An exported notebook against the rules of the RO-Crate 1.1 specification, https://w3id.org/ro/crate/1.1 (RO-Crate
 * Metadata Specification 1.1, Sefton, Ó Carragáin, Soiland-Reyes et al., 2020-10-30, doi 10.5281/zenodo.4541002). The
 * text of the rules was seen in the specification's own repository, ResearchObject/ro-crate, docs/1.1/. Each rule below
 * names its page and section; the checks are written from that text alone and use nothing of the exporter.
 * ZIP: PKWARE APPNOTE 6.3; the reader under test elsewhere reads archives of another program too.
 */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createHash } from "node:crypto";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  addPicture,
  addRemark,
  addSetup,
  exportNotebook,
  Notebook,
  startRun,
} from "../../src/notebook/index.ts";
import { ZipReader } from "../../src/notebook/zip-read.ts";
import { encodePng } from "../../src/picture/index.ts";
import { parseJsonObject } from "../../src/setup/index.ts";
import { type Crate, RULES } from "./ro-crate-rules.ts";

type Entity = Readonly<Record<string, unknown>> & { readonly "@id": string; readonly "@type": unknown };

let scratch: string;
let names: readonly string[];
let read: (name: string) => Buffer;
let close: () => void;
let metadata: { readonly "@context": unknown; readonly "@graph": readonly Entity[] };

beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "ro-crate-"));
  const notebook = Notebook.create(join(scratch, "notebook"));
  const text = readFileSync(new URL("../../examples/strontium.json", import.meta.url), "utf8");
  const by = 'Zoë "Z" <Invented>/Student';
  const setup = addSetup(notebook, { document: parseJsonObject(text, "strontium"), by });
  const run = startRun(notebook, { title: "invented run", setup: setup.uid, by });
  const samples = Uint8Array.of(1, 2, 3, 4);
  const png = encodePng({ columns: 2, rows: 2, channels: 1, depth: 8, samples });
  addPicture(notebook, png, { role: "hot", name: "50 % & more.png", run: run.uid });
  addRemark(notebook, { text: "</script><script>alert(1)</script>", run: run.uid });
  // An entry with computed numbers, so that there is a file that a program made.
  notebook.add({
    kind: "reading",
    title: "invented reading",
    by,
    body: { result: { columnGradient: { value: -1e21 } } },
    links: [{ role: "setup", to: setup.uid }],
  });
  const path = join(scratch, "crate.zip");
  exportNotebook(notebook, path, {
    license: "https://creativecommons.org/licenses/by/4.0/",
    name: "An invented notebook",
    now: () => new Date("2026-03-01T09:00:00Z"),
  });
  notebook.close();
  const zip = new ZipReader(path);
  names = zip.names();
  read = (name) => zip.read(name);
  close = () => zip.close();
  metadata = JSON.parse(read("ro-crate-metadata.json").toString("utf8")) as typeof metadata;
});
afterAll(() => {
  close();
  rmSync(scratch, { recursive: true });
});

const typesOf = (entity: Entity): readonly unknown[] =>
  Array.isArray(entity["@type"]) ? (entity["@type"] as unknown[]) : [entity["@type"]];
const listOf = (value: unknown): readonly unknown[] =>
  value === undefined ? [] : Array.isArray(value) ? (value as unknown[]) : [value];
const idsOf = (value: unknown): readonly string[] =>
  listOf(value).map((each) => (each as { readonly "@id": string })["@id"]);
/** root-data-entity, "Finding the Root Data Entity": the published algorithm. */
function root(): Entity {
  for (const entity of metadata["@graph"]) {
    const conforms = listOf(entity["conformsTo"]) as readonly { readonly "@id"?: string }[];
    if (!conforms.some((each) => each["@id"]?.startsWith("https://w3id.org/ro/crate/"))) continue;
    const about = (entity["about"] as { readonly "@id": string })["@id"];
    const found = metadata["@graph"].find((each) => each["@id"] === about);
    if (found !== undefined) return found;
  }
  throw new Error("no root data entity");
}
const files = (): readonly Entity[] =>
  metadata["@graph"].filter((entity) => typesOf(entity).includes("File"));

describe("every rule with MUST", () => {
  const crate = (): Crate => ({
    names,
    metadata,
    bytes: read("ro-crate-metadata.json"),
    preview: read("ro-crate-preview.html").toString("utf8"),
  });

  it.each(RULES)("$section: $rule", ({ holds, breaks }) => {
    expect(holds(crate())).toBe(true);
    expect(holds(breaks(crate()))).toBe(false);
  });
});

describe("structure: RO-Crate Structure", () => {
  it("has the metadata file in the archive's root, which makes that the crate's root", () => {
    expect(names).toContain("ro-crate-metadata.json");
    expect(
      names.filter((name) => name.startsWith("/") || name.includes("..") || name.includes("\\")),
    ).toEqual([]);
  });

  it("uses the specification's context by reference", () => {
    expect(listOf(metadata["@context"])[0]).toBe("https://w3id.org/ro/crate/1.1/context");
  });

  it("has a preview that is HTML 5 and holds a copy of the metadata in a script element of its head", () => {
    const page = read("ro-crate-preview.html").toString("utf8");
    expect(page.startsWith("<!doctype html>")).toBe(true);
    const head = page.slice(page.indexOf("<head>"), page.indexOf("</head>"));
    const scripts = [...page.matchAll(/<script([^>]*)>([\s\S]*?)<\/script>/g)];
    expect(scripts).toHaveLength(1);
    expect(head).toContain(scripts[0][0]);
    expect(scripts[0][1].trim()).toBe('type="application/ld+json"');
    expect(JSON.parse(scripts[0][2])).toEqual(metadata);
    // "SHOULD display at least the metadata relating to the Root Data Entity as static HTML".
    for (const property of ["name", "description", "license"])
      expect(page.slice(page.indexOf("<body>"))).toContain(
        root()[property]?.["@id" as never] ?? root()[property],
      );
  });
});

describe("root-data-entity: RO-Crate Metadata File Descriptor, Direct properties of the Root Data Entity", () => {
  it("has the descriptor of the metadata file", () => {
    const found = metadata["@graph"].filter((entity) => entity["@id"] === "ro-crate-metadata.json");
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({
      "@type": "CreativeWork",
      conformsTo: { "@id": "https://w3id.org/ro/crate/1.1" },
      about: { "@id": "./" },
    });
  });

  it("has a root with every property that it must have", () => {
    expect(typesOf(root())).toContain("Dataset");
    expect(root()["@id"]).toBe("./");
    expect(root()["name"]).toBe("An invented notebook");
    expect(String(root()["description"]).length).toBeGreaterThan(20);
    // "MUST be a string in ISO 8601 date format and SHOULD be specified to at least the precision of a day".
    expect(root()["datePublished"]).toMatch(/^\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}:\d{2}(?:\.\d+)?Z)?$/);
    // "SHOULD link to a Contextual Entity in the RO-Crate Metadata File".
    const license = metadata["@graph"].find((entity) => entity["@id"] === idsOf(root()["license"])[0]);
    expect(license).toMatchObject({ "@type": "CreativeWork" });
    expect(license?.["name"]).toBeTruthy();
  });
});

describe("data-entities: Referencing files and folders, Core Metadata for Data Entities", () => {
  it("links every described file from the root, and describes every file so linked", () => {
    expect(files().length).toBeGreaterThan(4);
    expect([...idsOf(root()["hasPart"])].sort()).toEqual(
      files()
        .map((file) => file["@id"])
        .sort(),
    );
  });

  it("names files by valid URI paths relative to the root that lead to what lies there", () => {
    for (const file of files()) {
      const id = file["@id"];
      expect(id).toMatch(/^(?!\/)[^\s"<>\\^`{|}?#[\]]+$/);
      expect(id.replace(/%[0-9A-F]{2}/g, "")).not.toContain("%");
      const bytes = read(decodeURIComponent(id));
      expect(file["contentSize"], id).toBe(String(bytes.length));
      expect(file["sha256"], id).toBe(createHash("sha256").update(bytes).digest("hex"));
      expect(String(file["encodingFormat"]), id).toMatch(/^[a-z]+\/[\w.+-]+$/);
    }
    const described = new Set(files().map((file) => decodeURIComponent(file["@id"])));
    const reserved = ["ro-crate-metadata.json", "ro-crate-preview.html"];
    expect(names.filter((name) => !described.has(name) && !reserved.includes(name))).toEqual([]);
  });
});

describe("contextual-entities, and appendix RO-Crate JSON-LD: Describing entities in JSON-LD", () => {
  it("names each entity once", () => {
    const ids = metadata["@graph"].map((entity) => entity["@id"]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("is flat: a property holds text, or references with @id as their only key", () => {
    for (const entity of metadata["@graph"]) {
      for (const [property, value] of Object.entries(entity)) {
        if (property.startsWith("@")) continue;
        for (const each of listOf(value))
          if (typeof each !== "string") expect(Object.keys(each as object), property).toEqual(["@id"]);
        // Compacted form: "single-element arrays SHOULD be unpacked to a single value".
        if (Array.isArray(value)) expect(value.length, property).toBeGreaterThan(1);
      }
    }
  });

  it("describes what it refers to, and refers to what it describes", () => {
    const ids = new Set(metadata["@graph"].map((entity) => entity["@id"]));
    const referred = new Set(
      metadata["@graph"].flatMap((entity) =>
        Object.entries(entity).flatMap(([property, value]) =>
          property.startsWith("@")
            ? []
            : listOf(value).flatMap((each) => (typeof each === "string" ? [] : idsOf(each))),
        ),
      ),
    );
    const outside = ["https://w3id.org/ro/crate/1.1"];
    expect([...referred].filter((id) => !ids.has(id) && !outside.includes(id))).toEqual([]);
    expect([...ids].filter((id) => !referred.has(id) && id !== "ro-crate-metadata.json")).toEqual([]);
  });

  it("uses only terms of the specification's context, or adds them to its own", () => {
    // Keys seen in docs/1.1/context.jsonld of the specification's repository; sha256 is not among them.
    const published = new Set(
      "about agent author conformsTo contentSize datePublished description encodingFormat endTime hasPart instrument license mentions name object result version CreateAction CreativeWork Dataset File Person SoftwareApplication".split(
        " ",
      ),
    );
    const [, own = {}] = listOf(metadata["@context"]);
    const used = new Set(
      metadata["@graph"].flatMap((entity) => [
        ...Object.keys(entity).filter((key) => !key.startsWith("@")),
        ...(typesOf(entity) as readonly string[]),
      ]),
    );
    expect([...used].filter((term) => !published.has(term))).toEqual(Object.keys(own as object));
    expect(own).toEqual({ sha256: "http://schema.org/sha256" });
  });
});

describe("provenance: Software used to create files", () => {
  it("says which program, in which version, made a file of numbers, and from what", () => {
    const actions = metadata["@graph"].filter((entity) => entity["@type"] === "CreateAction");
    expect(actions).toHaveLength(1);
    const [action] = actions;
    const tool = metadata["@graph"].find((entity) => entity["@id"] === idsOf(action["instrument"])[0]);
    expect(tool).toMatchObject({ "@type": "SoftwareApplication", name: "crossprism" });
    expect(tool?.["version"]).toMatch(/^\d+\.\d+\.\d+$/);
    const ids = files().map((file) => file["@id"]);
    expect(ids).toEqual(expect.arrayContaining([...idsOf(action["object"]), ...idsOf(action["result"])]));
    expect(action["endTime"]).toMatch(/^\d{4}-\d{2}-\d{2}T/);
  });
});
