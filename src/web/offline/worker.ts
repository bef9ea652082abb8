/**
 * Keeps the page when its server is not running: files with a fingerprint in their names come from the cache, the page
 * itself from the network first. Each build has a cache of its own, named by the address this worker was registered with.
 */
interface Lasting {
  waitUntil(done: Promise<unknown>): void;
}
interface Fetching {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}
interface Scope {
  readonly location: Location;
  readonly caches: CacheStorage;
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(type: "install" | "activate", listener: (event: Lasting) => void): void;
  addEventListener(type: "fetch", listener: (event: Fetching) => void): void;
}
const scope = self as unknown as Scope;

const CACHE = `crossprism ${new URL(scope.location.href).searchParams.get("build") ?? ""}`;
/** Written by the build: every file of the page, relative to it. */
const LIST = "./files.json";

scope.addEventListener("install", (event) => {
  event.waitUntil(keepAll().then(() => scope.skipWaiting()));
});
scope.addEventListener("activate", (event) => {
  event.waitUntil(forgetOlder().then(() => scope.clients.claim()));
});
scope.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== scope.location.origin) return;
  // The server's own answers (a setup file, a notebook) are never remembered: they change.
  if (url.pathname.includes("/assets/")) event.respondWith(fromCache(request));
  else if (request.mode === "navigate") event.respondWith(fromNetwork(request));
});

async function keepAll(): Promise<void> {
  const answer = await fetch(LIST, { cache: "no-store" });
  if (!answer.ok) throw new Error(`The list of the page's files could not be fetched (${answer.status}).`);
  const files = (await answer.json()) as readonly string[];
  const cache = await scope.caches.open(CACHE);
  await cache.addAll(["./", ...files]);
}

async function forgetOlder(): Promise<void> {
  for (const name of await scope.caches.keys()) if (name !== CACHE) await scope.caches.delete(name);
}

async function fromCache(request: Request): Promise<Response> {
  return (await scope.caches.match(request, { ignoreSearch: true })) ?? fetch(request);
}

async function fromNetwork(request: Request): Promise<Response> {
  try {
    return await fetch(request);
  } catch (fault) {
    const kept = await scope.caches.match(request, { ignoreSearch: true });
    if (kept !== undefined) return kept;
    const page = await scope.caches.match("./");
    if (page === undefined) throw fault;
    return page;
  }
}
