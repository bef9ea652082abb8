/**
 * Every rule that the RO-Crate 1.1 specification states with MUST or MUST NOT, or with "always" and "required", and that
 * concerns a crate of files such as ours: page and section of https://www.researchobject.org/ro-crate/1.1/ beside each
 * (text seen in ResearchObject/ro-crate, docs/1.1/). Not listed, since our crates hold no such thing: directories on the
 * web, publications (`citation`), workflows, legacy file names, and the link target of `sameAs`.
 */
export interface Crate {
  readonly names: readonly string[];
  readonly metadata: Record<string, unknown>;
  /** bytes of ro-crate-metadata.json and of ro-crate-preview.html */
  readonly bytes: Uint8Array;
  readonly preview: string;
}

type Entity = Record<string, unknown>;

export interface Rule {
  readonly section: string;
  readonly rule: string;
  readonly holds: (crate: Crate) => boolean;
  /** breaks the rule in a copy of a good crate */
  readonly breaks: (crate: Crate) => Crate;
}

const listOf = (value: unknown): readonly unknown[] =>
  value === undefined ? [] : Array.isArray(value) ? (value as unknown[]) : [value];
const graphOf = ({ metadata }: Crate): readonly Entity[] => listOf(metadata["@graph"]) as readonly Entity[];
const idOf = (value: unknown): unknown => (value as { readonly "@id"?: unknown } | undefined)?.["@id"];
const called = (crate: Crate, id: unknown): Entity | undefined =>
  graphOf(crate).find((each) => each["@id"] === id);
const descriptor = (crate: Crate): Entity | undefined => called(crate, "ro-crate-metadata.json");
const root = (crate: Crate): Entity | undefined => called(crate, idOf(descriptor(crate)?.["about"]));
const typed = (crate: Crate, type: string): readonly Entity[] =>
  graphOf(crate).filter((each) => listOf(each["@type"]).includes(type));
const files = (crate: Crate): readonly Entity[] => typed(crate, "File");
const isUri = (id: unknown): boolean => typeof id === "string" && /^[a-z][a-z0-9+.-]*:/i.test(id);
const isPath = (id: unknown): boolean =>
  typeof id === "string" && !id.startsWith("/") && /^(?:[^\s"<>\\^`{|}?#[\]%]|%[0-9A-Fa-f]{2})+$/.test(id);
const lies = (crate: Crate, id: unknown): boolean =>
  isUri(id) || (isPath(id) && crate.names.includes(decodeURIComponent(id as string)));
/** Years, months, days, and times with seconds and an offset, as ISO 8601 writes them. */
const isDate = (value: unknown): boolean =>
  typeof value === "string" &&
  /^\d{4}(?:-\d{2}(?:-\d{2}(?:T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?)?)?)?$/.test(value) &&
  !Number.isNaN(Date.parse(value));

/** A copy in which one entity is changed; `undefined` leaves a property out. */
const changed = (crate: Crate, which: (entity: Entity) => boolean, by: Entity): Crate => {
  const graph = graphOf(crate).map((each) => (which(each) ? { ...each, ...by } : each));
  return { ...crate, metadata: JSON.parse(JSON.stringify({ ...crate.metadata, "@graph": graph })) as Entity };
};
const atRoot = (by: Entity) => (crate: Crate) => changed(crate, (each) => each["@id"] === "./", by);
const atDescriptor = (by: Entity) => (crate: Crate) =>
  changed(crate, (each) => each["@id"] === "ro-crate-metadata.json", by);
const atAction = (by: Entity) => (crate: Crate) =>
  changed(crate, (each) => each["@type"] === "CreateAction", by);
const atFirstFile = (by: Entity) => (crate: Crate) => {
  const id = files(crate)[0]["@id"];
  return changed(crate, (each) => each["@id"] === id, by);
};
const property = (name: string, section: string): Rule => ({
  section,
  rule: `the root has ${name}`,
  holds: (crate) => {
    const value = root(crate)?.[name];
    return (typeof value === "string" && value !== "") || typeof idOf(value) === "string";
  },
  breaks: atRoot({ [name]: undefined }),
});

const ROOT = "Root Data Entity, Direct properties of the Root Data Entity";

export const RULES: readonly Rule[] = [
  {
    section: "RO-Crate Structure; RO-Crate Metadata File",
    rule: "ro-crate-metadata.json is in the root",
    holds: ({ names }) => names.includes("ro-crate-metadata.json"),
    breaks: (crate) => ({
      ...crate,
      names: crate.names.map((name) => (name.startsWith("ro-crate-m") ? `deep/${name}` : name)),
    }),
  },
  {
    section: "Data Entities, Encoding file paths",
    rule: "the metadata file is UTF-8",
    holds: ({ bytes }) => {
      try {
        return new TextDecoder("utf-8", { fatal: true }).decode(bytes) !== "";
      } catch {
        return false;
      }
    },
    breaks: (crate) => ({ ...crate, bytes: Uint8Array.of(...crate.bytes, 0xff) }),
  },
  {
    section: "RO-Crate Structure, RO-Crate Metadata File; RO-Crate JSON-LD, Describing entities in JSON-LD",
    rule: "flattened: every entity is an object directly in the graph, and refers by objects with @id as the only key",
    holds: (crate) =>
      graphOf(crate).every((entity) =>
        Object.entries(entity).every(
          ([key, value]) =>
            key.startsWith("@") ||
            listOf(value).every(
              (each) =>
                typeof each !== "object" ||
                JSON.stringify(Object.keys(each ?? {})) === JSON.stringify(["@id"]),
            ),
        ),
      ),
    breaks: atRoot({ author: { "@id": "#a", name: "nested" } }),
  },
  {
    section: "RO-Crate JSON-LD, RO-Crate JSON-LD Context (JSON-LD 1.0: a graph of nodes with @id)",
    rule: "there is a context, and every entity has an @id and an @type",
    holds: (crate) =>
      listOf(crate.metadata["@context"]).length > 0 &&
      graphOf(crate).length > 0 &&
      graphOf(crate).every(
        (entity) =>
          typeof entity["@id"] === "string" &&
          listOf(entity["@type"]).length > 0 &&
          listOf(entity["@type"]).every((type) => typeof type === "string"),
      ),
    breaks: atFirstFile({ "@type": undefined }),
  },
  {
    section: "Root Data Entity, RO-Crate Metadata File Descriptor",
    rule: "the graph holds the descriptor, a CreativeWork",
    holds: (crate) => listOf(descriptor(crate)?.["@type"]).includes("CreativeWork"),
    breaks: atDescriptor({ "@type": "Thing" }),
  },
  {
    section: "Root Data Entity, RO-Crate Metadata File Descriptor",
    rule: "the descriptor is about the root, which the graph describes",
    holds: (crate) => root(crate) !== undefined,
    breaks: atDescriptor({ about: { "@id": "elsewhere/" } }),
  },
  {
    section: ROOT,
    rule: "the root is a Dataset",
    holds: (crate) => listOf(root(crate)?.["@type"]).includes("Dataset"),
    breaks: atRoot({ "@type": "CreativeWork" }),
  },
  {
    section: ROOT,
    rule: "the root's @id ends with a slash",
    holds: (crate) => String(root(crate)?.["@id"]).endsWith("/"),
    breaks: (crate) => atDescriptor({ about: { "@id": "." } })(atRoot({ "@id": "." })(crate)),
  },
  property("name", ROOT),
  property("description", ROOT),
  property("license", ROOT),
  {
    section: ROOT,
    rule: "datePublished is a date of ISO 8601",
    holds: (crate) => isDate(root(crate)?.["datePublished"]),
    breaks: atRoot({ datePublished: "1 March 2026" }),
  },
  {
    section: "Data Entities, Referencing files and folders from the Root Data Entity",
    rule: "every file is linked from the root by hasPart, and what is so linked is a file or a folder",
    holds: (crate) => {
      const parts = listOf(root(crate)?.["hasPart"]).map(idOf);
      return (
        files(crate).every((file) => parts.includes(file["@id"])) &&
        parts.every((id) =>
          listOf(called(crate, id)?.["@type"]).some((type) => type === "File" || type === "Dataset"),
        )
      );
    },
    breaks: (crate) => atRoot({ hasPart: listOf(root(crate)?.["hasPart"]).slice(1) })(crate),
  },
  {
    section: "Data Entities, File Data Entity; Encoding file paths",
    rule: "a file's @id is a URI path relative to the root, specials escaped, or an absolute URI",
    holds: (crate) => files(crate).every((file) => isPath(file["@id"]) || isUri(file["@id"])),
    breaks: atFirstFile({ "@id": "files/50 %.png" }),
  },
  {
    section: "RO-Crate Structure",
    rule: "every file is present in the crate or on the web",
    holds: (crate) => files(crate).every((file) => lies(crate, file["@id"])),
    breaks: (crate) => ({
      ...crate,
      names: crate.names.filter((name) => name !== decodeURIComponent(String(files(crate)[0]["@id"]))),
    }),
  },
  {
    section: "Contextual Entities, Contextual vs Data entities",
    rule: "no @id is listed twice",
    holds: (crate) => new Set(graphOf(crate).map((each) => each["@id"])).size === graphOf(crate).length,
    breaks: (crate) => ({
      ...crate,
      metadata: { ...crate.metadata, "@graph": [...graphOf(crate), graphOf(crate)[1]] },
    }),
  },
  {
    section: "Provenance of entities, Recording changes to RO-Crates",
    rule: "an action's endTime is a date of ISO 8601",
    holds: (crate) => typed(crate, "CreateAction").every((each) => isDate(each["endTime"])),
    breaks: atAction({ endTime: "yesterday" }),
  },
  {
    section: "Provenance of entities, Recording changes to RO-Crates",
    rule: "an action has an object, which the crate describes",
    holds: (crate) =>
      typed(crate, "CreateAction").every((each) => {
        const objects = listOf(each["object"]).map(idOf);
        return objects.length > 0 && objects.every((id) => called(crate, id) !== undefined);
      }),
    breaks: atAction({ object: undefined }),
  },
  {
    section: "RO-Crate JSON-LD, Choosing URLs for ad hoc terms",
    rule: "a term of its own has a URI in the local context",
    holds: (crate) => {
      const own = Object.assign({}, ...listOf(crate.metadata["@context"]).slice(1)) as Entity;
      return (
        Object.values(own).every(isUri) && (!files(crate).some((file) => "sha256" in file) || "sha256" in own)
      );
    },
    breaks: (crate) => ({
      ...crate,
      metadata: { ...crate.metadata, "@context": listOf(crate.metadata["@context"]).slice(0, 1) },
    }),
  },
  {
    section: "RO-Crate Structure, RO-Crate Website",
    rule: "the preview holds a copy of the metadata in a script element of its head",
    holds: ({ preview, metadata }) => {
      const head = preview.slice(preview.indexOf("<head>"), preview.indexOf("</head>"));
      const copy = /<script type="application\/ld\+json">([\s\S]*?)<\/script>/.exec(head)?.[1] ?? "null";
      return JSON.stringify(JSON.parse(copy)) === JSON.stringify(metadata);
    },
    breaks: (crate) => ({ ...crate, preview: crate.preview.replace('"@graph"', '"@other"') }),
  },
];
