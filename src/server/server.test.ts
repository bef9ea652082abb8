// @vitest-environment node
import { mkdtemp, mkdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createApp, startServer } from "./index.ts";

let folder: string;
let root: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "bench-server-"));
  root = join(folder, "web");
  await mkdir(join(root, "assets"), { recursive: true });
  await writeFile(join(root, "index.html"), "<title>bench</title>");
  await writeFile(join(root, "assets", "a.js"), "export {};");
  await writeFile(join(root, ".secret"), "no");
  await writeFile(join(folder, "outside.txt"), "outside");
  await writeFile(join(folder, "setup.json"), '{"title":"given"}');
});
afterAll(() => rm(folder, { recursive: true }));

const ask = (
  path: string,
  init: { readonly method?: string; readonly headers?: Readonly<Record<string, string>> } = {},
  withSetup = false,
) =>
  createApp({ root, ...(withSetup ? { setupPath: join(folder, "setup.json") } : {}) }).request(
    `http://127.0.0.1${path}`,
    {
      ...init,
      headers: { host: "127.0.0.1:4000", ...init.headers },
    },
  );

describe("the local server", () => {
  it("hands out the page with a strict policy", async () => {
    const response = await ask("/");
    expect(response.status).toBe(200);
    expect(await response.text()).toContain("bench");
    expect(response.headers.get("content-security-policy")).toContain("default-src 'none'");
    expect(response.headers.get("content-security-policy")).not.toMatch(/'unsafe-/);
    expect(response.headers.get("cross-origin-opener-policy")).toBe("same-origin");
    expect(response.headers.get("cross-origin-embedder-policy")).toBe("require-corp");
    expect(response.headers.get("strict-transport-security")).toBeNull();
    expect(response.headers.get("cache-control")).toBe("no-cache");
    expect((await ask("/assets/a.js")).headers.get("cache-control")).toContain("immutable");
  });

  it("refuses a foreign name for this machine", async () => {
    for (const host of ["evil.example", "127.0.0.1.evil.example:80", "", "localhost.evil.example"]) {
      expect((await ask("/", { headers: { host } })).status, host).toBe(403);
    }
    for (const host of ["localhost:1", "LOCALHOST", "[::1]:9", "127.0.0.1"]) {
      expect((await ask("/", { headers: { host } })).status, host).toBe(200);
    }
  });

  it("never leaves its folder", async () => {
    for (const path of [
      "/../outside.txt",
      "/%2e%2e/outside.txt",
      "/..%2foutside.txt",
      "/assets/..%5c..%5coutside.txt",
      "/.secret",
      "/%00",
      "/%",
    ]) {
      expect((await ask(path)).status, path).toBe(404);
    }
  });

  it("takes nothing in", async () => {
    for (const method of ["POST", "PUT", "DELETE", "PATCH"])
      expect((await ask("/setup.json", { method })).status).toBe(405);
  });

  it("gives the setup it was started with, and says so when there is none", async () => {
    expect((await ask("/setup.json")).status).toBe(204);
    const response = await ask("/setup.json", {}, true);
    expect(await response.json()).toEqual({ title: "given" });
    expect(response.headers.get("cache-control")).toBe("no-store");
    const gone = await createApp({ root, setupPath: join(folder, "gone.json") }).request(
      "http://127.0.0.1/setup.json",
      {
        headers: { host: "127.0.0.1" },
      },
    );
    expect(gone.status).toBe(410);
  });

  it("listens on the loopback address and says when a port is taken", async () => {
    const server = await startServer({ port: 0, root });
    expect(server.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
    expect((await fetch(server.url)).status).toBe(200);
    const port = Number(new URL(server.url).port);
    await expect(startServer({ port, root })).rejects.toThrow(/^--port: expected a free port/);
    await server.close();
  });
});
