/**
 * The local server as a function from request to response: the built page, the one setup file it was started with, and
 * a notebook where it was given one. It answers to a Host that means this machine, takes in only what its own page adds
 * to the notebook, and sends every page with a strict policy.
 */
import { readFile } from "node:fs/promises";
import { basename, extname, join, normalize, sep } from "node:path";
import { Hono } from "hono";
import { secureHeaders } from "hono/secure-headers";
import { NOTEBOOK_API } from "../notebook/index.ts";
import { isNotebookAddress, mayPost, notebookRoutes, type ServedNotebook } from "./notebook-api.ts";

export interface AppOptions {
  /** folder of the built page */
  readonly root: string;
  /** setup file the page opens with */
  readonly setupPath?: string;
  /** notebook that the page may look into and add to */
  readonly notebook?: ServedNotebook;
}

/** Names under which this machine is asked for itself; any other Host may be a foreign page rebinding its name to us. */
const OWN_NAMES = new Set(["127.0.0.1", "localhost", "[::1]"]);
/** Addresses of the page itself; it shows the audience's window at the second. */
const PAGES = new Set(["/", "/audience"]);
/** A setup file is a few kilobytes; larger ones are not read. */
const LARGEST_SETUP = 2_000_000;

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".woff2": "font/woff2",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
};

export function createApp(options: AppOptions): Hono {
  const app = new Hono();

  app.use(async (context, next) => {
    if (!OWN_NAMES.has(hostName(context.req.header("host")))) {
      return context.text("This address answers to 127.0.0.1 and localhost only.\n", 403);
    }
    if (context.req.method !== "GET" && context.req.method !== "HEAD" && !mayPost(context)) {
      const sentence = "This server takes in nothing but what its own page adds to a notebook.";
      return isNotebookAddress(context)
        ? context.json({ message: sentence }, 403)
        : context.text(`${sentence}\n`, 405, { allow: "GET, HEAD" });
    }
    return next();
  });

  app.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'none'"],
        // The numeric kernel is WebAssembly; this word allows compiling that and no text as script.
        scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
        workerSrc: ["'self'"],
        styleSrc: ["'self'"],
        fontSrc: ["'self'"],
        imgSrc: ["'self'", "blob:", "data:"],
        connectSrc: ["'self'"],
        baseUri: ["'none'"],
        formAction: ["'none'"],
        frameAncestors: ["'none'"],
      },
      crossOriginOpenerPolicy: "same-origin",
      crossOriginEmbedderPolicy: "require-corp",
      crossOriginResourcePolicy: "same-origin",
      referrerPolicy: "no-referrer",
      xFrameOptions: "DENY",
      permissionsPolicy: { geolocation: [], microphone: [], payment: [], usb: [] },
      // Plain http on the loopback address: a browser told to insist on https could not come back.
      strictTransportSecurity: false,
    }),
  );

  app.get("/setup.json", async (context) => {
    if (options.setupPath === undefined) return context.body(null, 204);
    const text = await readSmall(options.setupPath);
    if (text === undefined)
      return context.text(`${basename(options.setupPath)} cannot be read any more.\n`, 410);
    context.header("cache-control", "no-store");
    return context.body(text, 200, { "content-type": "application/json; charset=utf-8" });
  });

  app.route(NOTEBOOK_API, notebookRoutes(options.notebook));

  app.get("/*", async (context) => {
    const path = safePath(options.root, new URL(context.req.url).pathname);
    const body = path === undefined ? undefined : await readFile(path).catch(() => undefined);
    if (path === undefined || body === undefined) return context.text("There is no such page.\n", 404);
    // Built files carry a fingerprint in their names and never change; the page itself is asked for anew.
    const lasting = path.includes(`${sep}assets${sep}`);
    context.header("cache-control", lasting ? "public, max-age=31536000, immutable" : "no-cache");
    return context.body(new Uint8Array(body), 200, {
      "content-type": TYPES[extname(path)] ?? "application/octet-stream",
    });
  });

  return app;
}

/** Host header without its port, in lower case. */
function hostName(header: string | undefined): string {
  return (header ?? "").toLowerCase().replace(/:\d+$/, "");
}

/** The file an address means, or undefined where it would lead out of the folder. */
function safePath(root: string, pathname: string): string | undefined {
  let decoded: string;
  try {
    decoded = decodeURIComponent(pathname);
  } catch {
    return undefined;
  }
  if (decoded.includes("\0") || decoded.split(/[/\\]/).some((part) => part === ".." || part.startsWith(".")))
    return undefined;
  const path = normalize(join(root, PAGES.has(decoded) ? "index.html" : decoded));
  return path.startsWith(root.endsWith(sep) ? root : root + sep) ? path : undefined;
}

async function readSmall(path: string): Promise<string | undefined> {
  try {
    const text = await readFile(path, "utf8");
    return text.length > LARGEST_SETUP ? undefined : text;
  } catch {
    return undefined;
  }
}
