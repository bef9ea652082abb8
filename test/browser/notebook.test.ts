/** Two tabs and a second program write into one notebook at the same time. */
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { Notebook, verifyNotebook } from "../../src/notebook/index.ts";
import { decodePng } from "../../src/picture/index.ts";
import { type Server, startServer } from "../../src/server/index.ts";
import { openBench } from "./bench-page.ts";
import { launch } from "./find-browser.ts";

const root = new URL("../../", import.meta.url);
const EACH = 30;
let browser: Browser;
let server: Server;
let notebook: Notebook;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "two-tabs-"));
  notebook = Notebook.create(join(folder, "lab"));
  const decode = (bytes: Uint8Array, name: string) => decodePng(bytes, name);
  [browser, server] = await Promise.all([launch(), startServer({ port: 0, notebook: { notebook, decode } })]);
});
afterAll(async () => {
  await browser.close();
  await server.close();
  notebook.close();
  rmSync(folder, { recursive: true });
});

function commanded(words: string): Promise<number | null> {
  const args = ["bin/crossprism.js", "notebook", "remark", words, "--in", join(folder, "lab")];
  const child = spawn(process.execPath, args, { cwd: root, stdio: "ignore" });
  return new Promise((done) => child.on("close", done));
}

it("no entry is lost and none is half", async () => {
  const context = await browser.newContext();
  const faults: string[] = [];
  const tabs = [await openBench(context, server.url, faults), await openBench(context, server.url, faults)];
  const writing = tabs.map((tab, t) =>
    tab.evaluate(
      async ({ each, t }) => {
        const names: string[] = [];
        for (let i = 0; i < each; i++) {
          const picture = i % 5 === 4;
          const answer = await fetch(
            picture ? "/api/notebook/pictures?role=other&name=noise.bin" : "/api/notebook/remarks",
            {
              method: "POST",
              headers: { "content-type": picture ? "application/octet-stream" : "application/json" },
              body: picture
                ? new Uint8Array(100_000).fill(10 * t + (i % 10))
                : JSON.stringify({ text: `tab ${t}, remark ${i}: ${"the line leans. ".repeat(i)}` }),
            },
          );
          if (answer.status !== 201) throw new Error(await answer.text());
          names.push(((await answer.json()) as { uid: string }).uid);
        }
        return names;
      },
      { each: EACH, t },
    ),
  );
  const codes = Promise.all([commanded("from another program"), commanded("and from a third")]);
  const names = (await Promise.all(writing)).flat();
  expect(await codes).toEqual([0, 0]);
  expect(new Set(names).size).toBe(2 * EACH);
  const all = [...notebook.all()];
  const kept = new Map(all.map((entry) => [entry.uid, entry]));
  expect(names.filter((name) => !kept.has(name))).toEqual([]);
  expect(all).toHaveLength(2 * EACH + 2);
  // Each tab's own entries stand in the order in which it wrote them.
  for (const t of [0, 1]) {
    const ids = names.slice(t * EACH, (t + 1) * EACH).map((name) => kept.get(name)?.id ?? 0);
    expect(ids).toEqual(ids.toSorted((a, b) => a - b));
  }
  const { damage } = await verifyNotebook(notebook, (bytes, name) => decodePng(bytes, name));
  expect([damage, faults]).toEqual([[], []]);
  await context.close();
}, 120_000);
