// @vitest-environment node
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Entry, Notebook, type NotebookPage } from "../notebook/index.ts";
import { decodePng, encodePng } from "../picture/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import { createApp } from "./index.ts";

let scratch: string;
let notebook: Notebook;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "server-notebook-"));
  notebook = Notebook.create(join(scratch, "bench"));
});
afterAll(() => {
  notebook.close();
  rmSync(scratch, { recursive: true });
});

const own = { host: "127.0.0.1:4000", origin: "http://127.0.0.1:4000", "content-type": "application/json" };
const app = () =>
  createApp({ root: scratch, notebook: { notebook, decode: (bytes, name) => decodePng(bytes, name) } });
const ask = (path: string) =>
  app().request(`http://127.0.0.1:4000/api/notebook${path}`, { headers: { host: own.host } });
const send = (path: string, body: object | Uint8Array, headers: Readonly<Record<string, string>> = own) =>
  app().request(`http://127.0.0.1:4000/api/notebook${path}`, {
    method: "POST",
    headers,
    body: body instanceof Uint8Array ? Buffer.from(body) : JSON.stringify(body),
  });
const added = async (path: string, body: object | Uint8Array, headers = own): Promise<Entry> => {
  const answer = await send(path, body, headers);
  expect([answer.status, answer.status === 201 ? "" : await answer.clone().text()]).toEqual([201, ""]);
  return (await answer.json()) as Entry;
};

/** A small bench whose picture can still be read. */
const document = overrideSetup(
  parseJsonObject(
    readFileSync(new URL("../../examples/potassium-grating.json", import.meta.url), "utf8"),
    "potassium-grating",
  ),
  ["camera.columns=640", "camera.rows=360"],
);

describe("the notebook over HTTP", () => {
  it("keeps a run with its temperatures, pictures and a reading taken from the kept bytes", async () => {
    const { frame } = forecast(parseSetup(document));
    const cold = forecast(parseSetup(document), { cold: true }).frame;
    const setup = await added("/setups", { document });
    const run = await added("/runs", { title: "over the wire", setup: setup.uid, by: "page" });
    await added("/temperatures", { run: run.uid, temperatures: { bottom: "250 degC", top: 420 } });
    await added("/remarks", { text: "curve stands still", run: run.uid });
    const hot = await added(
      `/pictures?role=hot&name=hot.png&run=${run.uid}&exposure=0.02`,
      encodePng(frame),
      {
        ...own,
        "content-type": "image/png",
      },
    );
    expect(hot.body).toMatchObject({ role: "hot", exposure: 0.02 });
    const dim = await added(`/pictures?role=cold&name=cold.png&run=${run.uid}`, encodePng(cold), {
      ...own,
      "content-type": "application/octet-stream",
    });
    // Neither setup nor run is named: the picture knows its run, and the run its setup.
    const reading = await added("/readings", { hot: hot.uid, cold: dim.uid });
    expect(reading.links).toContainEqual({ role: "setup", to: setup.uid });
    expect(reading.links).toContainEqual({ role: "run", to: run.uid });
    expect(reading.body).toMatchObject({ provenance: { pictures: { hot: hot.files[0].sha256 } } });

    const bytes = await ask(`/files/${hot.files[0].sha256}`);
    expect(bytes.headers.get("content-type")).toBe("image/png");
    expect(decodePng(new Uint8Array(await bytes.arrayBuffer()), "kept")).toEqual(frame);
    const page = (await (
      await ask(`/entries?run=${run.uid}&kind=picture&kind=reading`)
    ).json()) as NotebookPage;
    expect(page.entries.map(({ uid }) => uid)).toEqual([reading.uid, dim.uid, hot.uid]);
    const found = (await (await ask("/entries?number=temperature.top&least=400")).json()) as NotebookPage;
    expect(found.entries).toHaveLength(1);
    expect((await ask(`/entries/${reading.id}`)).status).toBe(200);
    expect(await (await ask("")).json()).toEqual({ name: "bench", entries: 7, pictures: 2, runs: 1 });
  }, 300_000);

  it("says no in one sentence", async () => {
    const cases: readonly (readonly [Response | Promise<Response>, number, RegExp])[] = [
      [send("/remarks", { text: "" }), 422, /^text: expected words/],
      [send("/remarks", {}), 422, /^text: expected text, received nothing\.$/],
      [send("/remarks", [] as object), 422, /^body: expected one JSON object/],
      [send("/pictures?role=warm", Uint8Array.of(1)), 422, /^role: expected one of hot/],
      [send("/setups", { document: {}, name: 7 }), 422, /^name: expected text/],
      [send("/nothing", {}), 404, /no such address/],
      [ask("/entries/999999"), 404, /^entry: expected/],
      [ask("/entries?kind=dream"), 422, /^kind: expected one of setup/],
      [ask("/entries?least=x&number=y"), 422, /^least: expected a number/],
      [ask(`/files/${"0".repeat(64)}`), 404, /^sha256: /],
    ];
    for (const [answer, status, sentence] of cases) {
      const got = await answer;
      const { message } = (await got.json()) as { message: string };
      expect([got.status, message]).toEqual([status, expect.stringMatching(sentence)]);
    }
  });

  it("takes nothing from a foreign page", async () => {
    const before = notebook.summary().entries;
    const foreign: readonly Readonly<Record<string, string>>[] = [
      { ...own, origin: "http://evil.example" },
      { ...own, origin: "null" },
      { host: own.host, "content-type": "application/json" },
      { ...own, origin: "http://127.0.0.1:4001" },
      { ...own, "content-type": "text/plain" },
      { ...own, "content-type": "application/x-www-form-urlencoded" },
      { ...own, "content-type": "multipart/form-data" },
      { ...own, host: "evil.example", origin: "http://evil.example" },
    ];
    for (const headers of foreign)
      expect((await send("/remarks", { text: "x" }, headers)).status, JSON.stringify(headers)).toBe(403);
    expect(notebook.summary().entries).toBe(before);
  });

  it("is absent where no notebook is open", async () => {
    const bare = createApp({ root: scratch });
    const answer = await bare.request("http://127.0.0.1/api/notebook", { headers: { host: "127.0.0.1" } });
    expect([answer.status, await answer.json()]).toEqual([404, { message: "No notebook is open." }]);
  });
});
