/** Report, handout and solutions as a browser prints and opens them. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addPicture, addSetup, Notebook, startRun, takeReading } from "../../src/notebook/index.ts";
import { decodePng, encodePng } from "../../src/picture/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../../src/setup/index.ts";
import { start } from "./find-browser.ts";

const root = new URL("../../", import.meta.url);
const MOST = 3e6;
let browser: Browser;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "printed-"));
  const started = await start();
  browser = started.browser;
  const path = new URL("examples/potassium-grating.json", root);
  const document = overrideSetup(parseJsonObject(readFileSync(path, "utf8"), "potassium-grating"), [
    "camera.columns=640",
    "camera.rows=360",
  ]);
  const notebook = Notebook.create(join(folder, "lab"));
  const setup = addSetup(notebook, { document });
  const run = startRun(notebook, { title: "first light", setup: setup.uid });
  const [hot, cold] = [false, true].map((dark) =>
    addPicture(notebook, encodePng(forecast(parseSetup(document), { cold: dark }).frame), {
      role: dark ? "cold" : "hot",
      name: "a.png",
      run: run.uid,
    }),
  );
  await takeReading(
    notebook,
    { setup: setup.uid, hot: hot.uid, cold: cold.uid, run: run.uid },
    (bytes, name) => decodePng(bytes, name),
  );
  notebook.close();
  const env = { ...process.env, CHROMIUM_PATH: started.found.path };
  const make = (...args: string[]): void => {
    execFileSync(process.execPath, ["bin/crossprism.js", "report", ...args, "-o", folder], {
      cwd: root,
      env,
    });
  };
  make("run", "last", "--in", join(folder, "lab"));
  make("handout", "examples/potassium-grating.json");
}, 240_000);
afterAll(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

/** How often a name stands in a PDF; Chromium leaves its objects readable and packs only what they hold. */
const counted = (pdf: string, name: RegExp): number => pdf.match(name)?.length ?? 0;

describe.each(["report", "handout", "solutions"])("%s", (name) => {
  it("is a tagged PDF with embedded fonts, small enough to send", () => {
    const bytes = readFileSync(join(folder, `${name}.pdf`));
    expect(bytes.length).toBeLessThanOrEqual(MOST);
    const pdf = bytes.toString("latin1");
    expect(pdf).toMatch(/\/MarkInfo\s*<<[^>]*\/Marked true/);
    expect(pdf).toMatch(/\/StructTreeRoot \d+ 0 R/);
    expect(pdf).toMatch(/\/Lang \(en/);
    expect(pdf).toMatch(/\/Title /);
    for (const tag of ["H1", "H2", "Figure", "TH", "TD", ...(name === "report" ? ["P", "Caption"] : ["L"])])
      expect(counted(pdf, new RegExp(`/S /${tag}\\b`, "g")), tag).toBeGreaterThan(0);
    // Every figure says in words what it shows.
    expect(counted(pdf, /\/Alt /g)).toBeGreaterThanOrEqual(name === "report" ? 3 : 1);
    const fonts = counted(pdf, /\/Type \/FontDescriptor/g);
    expect(fonts).toBeGreaterThan(0);
    // A font of type 3 brings its glyphs as drawings instead of a file.
    const drawn = counted(pdf, /\/Subtype \/Type3\b/g);
    expect(counted(pdf, /\/FontFile[23]? /g) + drawn).toBe(fonts);
    const pages = counted(pdf, /\/Type \/Page\b(?!s)/g);
    expect(pages).toBeGreaterThan(0);
    if (name === "handout") expect(pages).toBeLessThanOrEqual(2);
  });

  it("opens whole where scripts are off and nothing can be fetched", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false, offline: true });
    try {
      const page = await context.newPage();
      const asked: string[] = [];
      page.on("request", (request) => {
        if (!request.url().startsWith("data:")) asked.push(request.url());
      });
      const address = pathToFileURL(join(folder, `${name}.html`)).href;
      await page.goto(address);
      expect(asked).toEqual([address]);
      expect(await page.locator("h1").isVisible()).toBe(true);
      for (const picture of await page.locator("img, svg").all()) {
        const box = await picture.boundingBox();
        expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThan(20);
      }
      if (name !== "solutions")
        expect((await page.locator("math").first().boundingBox())?.height).toBeGreaterThan(15);
    } finally {
      await context.close();
    }
  });
});
