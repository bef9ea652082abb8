import { existsSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { serve } from "@hono/node-server";
import { Refusal } from "../quantity/refusal.ts";
import { createApp } from "./app.ts";
import type { ServedNotebook } from "./notebook-api.ts";

export interface ServerOptions {
  /** port on the loopback address, 0 takes a free one */
  readonly port: number;
  /** setup file the page opens with */
  readonly setupPath?: string;
  /** notebook that the page may look into and add to */
  readonly notebook?: ServedNotebook;
  /** folder of the built page; found beside the program when not given */
  readonly root?: string;
}

export interface Server {
  /** address of the page, e.g. "http://127.0.0.1:4173/" */
  readonly url: string;
  close(): Promise<void>;
}

/**
 * Serves the bench to this machine only.
 * @throws Refusal where the port is taken or not allowed, Error where the page was never built
 */
export function startServer(options: ServerOptions): Promise<Server> {
  const root = options.root ?? builtPage();
  const app = createApp({
    root,
    ...(options.setupPath === undefined ? {} : { setupPath: options.setupPath }),
    ...(options.notebook === undefined ? {} : { notebook: options.notebook }),
  });
  return new Promise((resolve, reject) => {
    const server = serve({ fetch: app.fetch, hostname: "127.0.0.1", port: options.port });
    server.once("error", (fault: NodeJS.ErrnoException) => {
      reject(portRefusal(fault, options.port) ?? fault);
    });
    server.once("listening", () => {
      const { port } = server.address() as AddressInfo;
      resolve({
        url: `http://127.0.0.1:${port}/`,
        close: () =>
          new Promise((done) => {
            server.close(() => done());
            // A browser keeps its connections open; closing the bench must not wait for it.
            if ("closeAllConnections" in server) server.closeAllConnections();
          }),
      });
    });
  });
}

function portRefusal(fault: NodeJS.ErrnoException, port: number): Refusal | undefined {
  const reason = { EADDRINUSE: "taken by another program", EACCES: "not allowed to this user" }[
    fault.code ?? ""
  ];
  if (reason === undefined) return undefined;
  return new Refusal({
    code: "port-unavailable",
    field: "--port",
    received: `${port}, which is ${reason}`,
    expected: "a free port, or 0 to take any",
  });
}

/** dist/web, from the sources as well as from the built program. */
function builtPage(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  for (let i = 0; i < 5; i++) {
    const candidate = join(folder, "dist", "web");
    if (existsSync(join(candidate, "index.html"))) return candidate;
    folder = dirname(folder);
  }
  throw new Error("the page has not been built: run npm run build");
}
