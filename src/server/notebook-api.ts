/**
 * The notebook for the page: addresses and bodies as src/notebook/contract.ts lists them. Everything is checked here as
 * strictly as on the command line, by the same functions; this file only carries it over HTTP.
 */

import { Hono, type Context } from "hono";
import { bodyLimit } from "hono/body-limit";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import {
  addPicture,
  addRemark,
  addSetup,
  type Decode,
  type Entry,
  type EntryKind,
  logTemperatures,
  type NewCommon,
  type NewRemark,
  type NewRun,
  type NewSetup,
  type NewTemperatures,
  type Notebook,
  NOTEBOOK_API,
  type NotebookQuery,
  type PictureRole,
  startRun,
  takeReading,
} from "../notebook/index.ts";
import { Refusal } from "../quantity/index.ts";
import { isObject, type JsonObject } from "../setup/index.ts";

export interface ServedNotebook {
  readonly notebook: Notebook;
  readonly decode: Decode;
}

/** Largest file taken in, bytes: a frame of 100 million 16-bit pixels in three colours fits. */
const LARGEST_FILE = 640e6;
const LARGEST_JSON = 2e6;

/** Addresses below NOTEBOOK_API; without a notebook all of them answer 404. */
export function notebookRoutes(served: ServedNotebook | undefined): Hono {
  const routes = new Hono();
  if (served === undefined) {
    routes.all("*", (context) => no(context, 404, "No notebook is open."));
    return routes;
  }
  const { notebook, decode } = served;

  routes.onError((error, context) => {
    if (error instanceof Refusal) return no(context, statusOf(error), error.message);
    throw error;
  });
  routes.use(async (context, next) => {
    await next();
    context.header("cache-control", "no-store");
  });
  routes.use((context, next) =>
    bodyLimit({
      maxSize: context.req.path.endsWith("/pictures") ? LARGEST_FILE : LARGEST_JSON,
      onError: (c) => no(c, 413, "The body is larger than a notebook takes."),
    })(context, next),
  );

  routes.get("/", (context) => context.json(notebook.summary()));
  routes.get("/entries", (context) =>
    context.json(notebook.find(queryOf(new URL(context.req.url).searchParams))),
  );
  routes.get("/entries/:reference", (context) => context.json(notebook.get(context.req.param("reference"))));
  routes.get("/files/:sha256", (context) => {
    const { bytes, media } = notebook.file(context.req.param("sha256"));
    // A kept page must not run as part of this one.
    const shown = media.startsWith("image/") || media.startsWith("video/");
    if (!shown) context.header("content-disposition", "attachment");
    return context.body(new Uint8Array(bytes), 200, { "content-type": media });
  });

  routes.post("/pictures", async (context) => {
    const given = new URL(context.req.url).searchParams;
    const bytes = new Uint8Array(await context.req.arrayBuffer());
    const exposure = numberOf(given, "exposure");
    return context.json(
      addPicture(notebook, bytes, {
        ...wordsOf(given, ["at", "by", "text", "corrects", "run"]),
        role: (given.get("role") ?? "") as PictureRole,
        name: given.get("name") ?? "picture",
        ...(exposure === undefined ? {} : { exposure }),
      }),
      201,
    );
  });
  const taking = (path: string, add: (given: JsonObject) => Entry | Promise<Entry>): void => {
    routes.post(path, async (context) => context.json(await add(await jsonOf(context)), 201));
  };
  taking("/setups", (given) =>
    addSetup(notebook, {
      ...textsOf(given, ["name"]),
      document: objectIn(given, "document"),
    } satisfies NewSetup),
  );
  taking("/runs", (given) =>
    startRun(notebook, { ...textsOf(given), ...neededIn(given, ["title", "setup"]) } satisfies NewRun),
  );
  taking("/temperatures", (given) =>
    logTemperatures(notebook, {
      ...textsOf(given),
      ...neededIn(given, ["run"]),
      temperatures: objectIn(given, "temperatures") as NewTemperatures["temperatures"],
    }),
  );
  taking("/remarks", (given) =>
    addRemark(notebook, {
      ...textsOf(given, ["title", "run"]),
      ...neededIn(given, ["text"]),
    } satisfies NewRemark),
  );
  taking("/readings", (given) =>
    takeReading(
      notebook,
      {
        ...textsOf(given, ["setup", "cold", "lamp", "dark", "lampLines", "run"]),
        ...neededIn(given, ["hot"]),
        ...(given["options"] === undefined ? {} : { options: objectIn(given, "options") }),
      },
      decode,
    ),
  );
  routes.all("*", (context) => no(context, 404, "There is no such address."));
  return routes;
}

export function isNotebookAddress(context: Context): boolean {
  return new URL(context.req.url).pathname.startsWith(`${NOTEBOOK_API}/`);
}

/** A change is taken only from the page itself: a foreign page can send a request, but not under our origin. */
export function mayPost(context: Context): boolean {
  const { host } = new URL(context.req.url);
  if (context.req.method !== "POST" || !isNotebookAddress(context)) return false;
  const origin = context.req.header("origin") ?? "";
  const asked = context.req.header("host") ?? host;
  const type = (context.req.header("content-type") ?? "").split(";", 1)[0].trim().toLowerCase();
  const plain = /^(?:application\/(?:json|octet-stream)|(?:image|video)\/[\w.+-]+)$/.test(type);
  return plain && URL.canParse(origin) && new URL(origin).host === asked.toLowerCase();
}

function no(context: Context, status: ContentfulStatusCode, message: string): Response {
  return context.json({ message }, status);
}

function statusOf({ record: { code } }: Refusal): ContentfulStatusCode {
  if (code === "no-entry" || code === "no-file") return 404;
  if (code === "disk-full") return 507;
  if (["read-only", "notebook-busy", "disk-failed", "notebook-damaged", "file-damaged"].includes(code))
    return 503;
  return 422;
}

function queryOf(given: URLSearchParams): NotebookQuery {
  const name = given.get("number");
  const [least, most] = [numberOf(given, "least"), numberOf(given, "most")];
  const [limit, before] = [numberOf(given, "limit"), numberOf(given, "before")];
  const kinds = given.getAll("kind") as EntryKind[];
  return {
    ...(kinds.length === 0 ? {} : { kinds }),
    ...wordsOf(given, ["words", "element", "from", "to", "run"]),
    ...(limit === undefined ? {} : { limit }),
    ...(before === undefined ? {} : { before }),
    ...(name === null
      ? {}
      : {
          number: {
            name,
            ...(least === undefined ? {} : { least }),
            ...(most === undefined ? {} : { most }),
          },
        }),
  };
}

function wordsOf<K extends string>(given: URLSearchParams, names: readonly K[]): { [key in K]?: string } {
  const found: { [key: string]: string } = {};
  for (const name of names) {
    const value = given.get(name);
    if (value !== null && value !== "") found[name] = value;
  }
  return found as { [key in K]?: string };
}

function numberOf(given: URLSearchParams, name: string): number | undefined {
  const text = given.get(name);
  if (text === null || text === "") return undefined;
  const value = Number(text);
  if (Number.isFinite(value)) return value;
  throw wrong(name, text, "a number");
}

async function jsonOf(context: Context): Promise<JsonObject> {
  let value: unknown;
  try {
    value = await context.req.json();
  } catch {
    throw wrong("body", "no JSON", "one JSON object");
  }
  if (isObject(value)) return value;
  throw wrong("body", "JSON of another kind", "one JSON object");
}

const COMMON = ["at", "by", "text", "corrects"] as const satisfies readonly (keyof NewCommon)[];

/** Optional texts of a body, those that any entry may have among them. */
function textsOf<K extends string = never>(
  given: JsonObject,
  names: readonly K[] = [],
): { [key in K | (typeof COMMON)[number]]?: string } {
  const found: { [key: string]: string } = {};
  for (const name of [...COMMON, ...names]) {
    const value = given[name];
    if (value === undefined || value === null) continue;
    if (typeof value !== "string") throw wrong(name, JSON.stringify(value), "text");
    found[name] = value;
  }
  return found as { [key in K | (typeof COMMON)[number]]?: string };
}

function neededIn<K extends string>(given: JsonObject, names: readonly K[]): { [key in K]: string } {
  const found = textsOf(given, names);
  const missing = names.find((name) => found[name] === undefined);
  if (missing !== undefined) throw wrong(missing, "nothing", "text");
  return found as { [key in K]: string };
}

function objectIn(given: JsonObject, name: string): JsonObject {
  const value = given[name];
  if (isObject(value)) return value;
  throw wrong(name, value === undefined ? "nothing" : JSON.stringify(value), "a JSON object");
}

function wrong(field: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "bad-body", field, received, expected });
}
