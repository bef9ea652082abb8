/** The page and the command line on the same files: the same numbers, whatever the kind of file; films and the notebook too. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, BrowserContext, Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { command } from "../../src/cli/testing/command.ts";
import { decodeFrame } from "../../src/cli/files.ts";
import { Notebook } from "../../src/notebook/index.ts";
import { encodePng, type Frame } from "../../src/picture/index.ts";
import { readPicture } from "../../src/reading/index.ts";
import { type Server, startServer } from "../../src/server/index.ts";
import { forecast, type JsonObject, parseSetup } from "../../src/setup/index.ts";
import { openBench } from "./bench-page.ts";
import { launch } from "./find-browser.ts";
import { writeY4m } from "./y4m.ts";

const demo = JSON.parse(
  readFileSync(fileURLToPath(new URL("../../examples/blue-twins.json", import.meta.url)), "utf8"),
) as JsonObject;
/** The demonstration on a sensor of few pixels, so that a fit takes two seconds. */
const setupOf = (bitDepth: 8 | 16): JsonObject => ({
  ...demo,
  camera: {
    ...(demo["camera"] as JsonObject),
    pixel: "9.6 um",
    columns: 320,
    rows: 200,
    rate: "480000 /s",
    fullWell: 60000,
    bitDepth,
  },
});
const framesOf = (bitDepth: 8 | 16): { readonly hot: Frame; readonly cold: Frame } => {
  const setup = parseSetup(setupOf(bitDepth));
  return {
    hot: forecast({ ...setup, camera: { ...setup.camera, seed: 7 } }).frame,
    cold: forecast(setup, { cold: true }).frame,
  };
};
const [eight, sixteen] = [framesOf(8), framesOf(16)];

/** Whether an ffmpeg is installed that writes films of a kind. */
function encodes(codec: string): boolean {
  try {
    return execFileSync("ffmpeg", ["-hide_banner", "-encoders"], { stdio: ["ignore", "pipe", "ignore"] })
      .toString()
      .includes(` ${codec} `);
  } catch {
    return false;
  }
}

/** FITS with its first row at the top, written by hand. */
function fits({ columns, rows, samples }: Frame): Uint8Array {
  const card = (key: string, value: string | number): string =>
    `${key.padEnd(8)}= ${String(value).padStart(20)}`;
  const cards = [
    card("SIMPLE", "T"),
    card("BITPIX", 16),
    card("NAXIS", 2),
    card("NAXIS1", columns),
    card("NAXIS2", rows),
    card("BZERO", 32768),
    card("BSCALE", 1),
    card("ROWORDER", "'TOP-DOWN'"),
    "END",
  ].map((text) => text.padEnd(80));
  const head = Buffer.from(cards.join("").padEnd(2880));
  const data = Buffer.alloc(Math.ceil((2 * samples.length) / 2880) * 2880);
  for (const [i, value] of samples.entries()) data.writeInt16BE(value - 32768, 2 * i);
  return Buffer.concat([head, data]);
}
const grey = ({ columns, rows, samples, depth }: Frame) =>
  sharp(samples, { raw: { width: columns, height: rows, channels: 1 } }).toColourspace(
    depth === 16 ? "grey16" : "b-w",
  );

/** A little light that no lamp sent, uneven from pixel to pixel. */
const dark = (like: Frame, most: number): Frame => ({
  ...like,
  samples: like.samples.map((_, i) => (i * 7919) % most),
});

/** Kinds of file, each with the frames that it holds and how they are written. */
const KINDS: Readonly<
  Record<string, { readonly depth: 8 | 16; readonly write: (frame: Frame) => Promise<Uint8Array> }>
> = {
  "8-bit.png": { depth: 8, write: (frame) => Promise.resolve(encodePng(frame)) },
  "16-bit.png": { depth: 16, write: (frame) => Promise.resolve(encodePng(frame)) },
  "lzw.tif": {
    depth: 16,
    write: (frame) => grey(frame).tiff({ compression: "lzw", predictor: "none" }).toBuffer(),
  },
  "sixteen.fits": { depth: 16, write: (frame) => Promise.resolve(fits(frame)) },
  "grey.jpg": { depth: 8, write: (frame) => grey(frame).jpeg({ quality: 96 }).toBuffer() },
  "colour.jpg": {
    depth: 8,
    write: (frame) =>
      grey(frame)
        .toColourspace("srgb")
        .tint({ r: 90, g: 140, b: 255 })
        .jpeg({ quality: 95, progressive: true })
        .toBuffer(),
  },
};

let folder: string;
let browser: Browser;
let notebook: Notebook;
let server: Server;
let context: BrowserContext;
let page: Page;
let faults: string[];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-files-"));
  notebook = Notebook.create(join(folder, "bench"));
  browser = await launch();
  server = await startServer({ port: 0, notebook: { notebook, decode: decodeFrame } });
});
afterAll(async () => {
  await browser.close();
  await server.close();
  notebook.close();
  rmSync(folder, { recursive: true });
});
beforeEach(async () => {
  faults = [];
  context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  page = await openBench(context, server.url, faults);
});
afterEach(async () => {
  await context.close();
  expect(faults).toEqual([]);
});

/** Opens the setup of so many bits, and the leaf. @returns its file */
async function openSetup(bitDepth: 8 | 16): Promise<string> {
  const path = join(folder, `setup-${bitDepth}.json`);
  writeFileSync(path, JSON.stringify(setupOf(bitDepth)));
  await page.locator("input[type=file][accept*=json]").setInputFiles(path);
  await page.getByRole("button", { name: "Measure", exact: true }).click();
  return path;
}
const number = async (label: string): Promise<number> =>
  Number(
    await page.locator(".measure .numbers tr", { hasText: label }).locator("data").getAttribute("value"),
  );
const read = async (name: string): Promise<void> => {
  await page.getByRole("button", { name: "read it" }).click();
  await page
    .locator(".measure figcaption", { hasText: name })
    .waitFor({ state: "attached", timeout: 120_000 });
  await page.waitForSelector(".measure[aria-busy=false]", { timeout: 120_000 });
};

interface Read {
  readonly columnGradient: { readonly value: number; readonly combinedUncertainty: number };
  readonly columnDensity: { readonly value: number };
  readonly fRatio: { readonly value: number };
  readonly zeroBetweenLines: { readonly measured: { readonly value: number } };
}

describe("page and command line on the same files", () => {
  it.each([8, 16] as const)(
    "the same numbers to 1e-9 for every kind of file of %i bits",
    async (depth) => {
      const setup = await openSetup(depth);
      const frames = depth === 8 ? eight : sixteen;
      // Dark frames, averaged, with the files of 16 bits.
      const darks = depth === 16 ? [1, 2].map((k) => join(folder, `dark-${k}.png`)) : [];
      for (const [k, path] of darks.entries()) writeFileSync(path, encodePng(dark(frames.hot, 101 + 96 * k)));
      if (darks.length > 0) await page.getByLabel(/^dark picture/).setInputFiles(darks);
      const gradients = new Set<number>();
      for (const [kind, { write }] of Object.entries(KINDS).filter(([, each]) => each.depth === depth)) {
        const [hot, cold] = [join(folder, `hot-${kind}`), join(folder, `cold-${kind}`)];
        writeFileSync(hot, await write(frames.hot));
        writeFileSync(cold, await write(frames.cold));
        await page.getByLabel(/^hot picture/).setInputFiles(hot);
        await page.getByLabel(/^cold picture/).setInputFiles(cold);
        await read(`hot-${kind}`);
        const taken = darks.flatMap((path) => ["--dark", path]);
        const said = await command("read", hot, "--setup", setup, "--cold", cold, ...taken, "--json");
        expect([said.code, said.err]).toEqual([0, ""]);
        const reading = JSON.parse(said.out) as Read;
        for (const [label, want] of [
          ["column gradient", reading.columnGradient.value],
          ["column density", reading.columnDensity.value],
          ["strength ratio", reading.fRatio.value],
          ["zero between the lines", reading.zeroBetweenLines.measured.value],
        ] as const)
          expect(Math.abs((await number(label)) / want - 1), `${kind}, ${label}`).toBeLessThan(1e-9);
        gradients.add(reading.columnGradient.value);
      }
      if (darks.length === 0) return;
      // They say something: without them the same picture reads a little differently.
      const { hot, cold, setup: bench } = { ...frames, setup: parseSetup(setupOf(depth)) };
      expect(gradients).not.toContain(readPicture({ hot, cold, setup: bench }).columnGradient.value);
    },
    240_000,
  );

  it.for<{ kind: string; ending: string; codec: string | undefined }>([
    { kind: "uncompressed", ending: "y4m", codec: undefined },
    { kind: "VP9", ending: "webm", codec: "libvpx-vp9" },
    { kind: "H.264", ending: "mp4", codec: "libx264" },
  ])(
    "the same numbers to 1e-9 for every frame of a film, $kind",
    { timeout: 240_000 },
    async ({ kind, ending, codec }, { skip }) => {
      skip(codec !== undefined && !encodes(codec), `no ffmpeg that writes ${kind} is installed`);
      const setup = await openSetup(8);
      const bench = parseSetup(setupOf(8));
      const frames = [1, 2, 3, 4, 5].map(
        (seed) => forecast({ ...bench, camera: { ...bench.camera, seed } }).frame,
      );
      const [film, cold] = [join(folder, `tube-${kind}.${ending}`), join(folder, "film-cold.png")];
      const plain = join(folder, "plain.y4m");
      writeFileSync(plain, writeY4m(frames, 10));
      if (codec === undefined) renameSync(plain, film);
      else
        execFileSync("ffmpeg", [
          ...["-loglevel", "error", "-y", "-i", plain, "-c:v", codec, "-b:v", "4M", "-pix_fmt", "yuv420p"],
          film,
        ]);
      writeFileSync(cold, encodePng(eight.cold));
      await page.getByLabel("film to be measured").setInputFiles(film);
      await page.getByLabel(/^cold picture/).setInputFiles(cold);
      // One of them with an area left out by hand in every frame, as the command line does by the same file.
      const marks = join(folder, "film-marks.json");
      const marked = kind === "uncompressed" ? ["--marks", marks] : [];
      if (marked.length > 0) {
        writeFileSync(marks, JSON.stringify({ struck: [{ columns: [40, 90], rows: [0, 199] }] }));
        const hot = join(folder, "film-hot.png");
        writeFileSync(hot, encodePng(eight.hot));
        await page.getByLabel(/^hot picture/).setInputFiles(hot);
        await page.getByLabel("file of marks set by hand").setInputFiles(marks);
        await page.locator(".wells .file-choice", { hasText: "other marks" }).waitFor();
      }
      await page.getByLabel("one frame of").fill("2");
      await page.getByLabel("one frame of").press("Enter");
      await page.getByRole("button", { name: "measure the film" }).click();
      await expect
        .poll(() => page.locator(".film [role=status]").textContent(), { timeout: 120_000 })
        .toBe("3 frames read.");
      const cells = (column: number): Promise<number[]> =>
        page
          .locator(`.film-table tbody td:nth-child(${column})`)
          .evaluateAll((all) =>
            all.map((cell) => Number(cell.querySelector("data")?.getAttribute("value") ?? cell.textContent)),
          );
      const said = await command(
        ...["series", film, "--setup", setup, "--cold", cold, ...marked],
        ...["--every", "2", "--workers", "1", "--json"],
      );
      expect([said.code, said.err]).toEqual([0, ""]);
      const { rows } = JSON.parse(said.out) as {
        rows: { readonly time: number; readonly values: Readonly<Record<string, number>> }[];
      };
      expect(await cells(1)).toEqual(rows.map(({ time }) => Number(time.toFixed(3))));
      for (const [column, name] of [
        [2, "column_gradient_m-3"],
        [3, "column_density_m-2"],
      ] as const) {
        const seen = await cells(column);
        expect(seen).toHaveLength(3);
        seen.forEach((value, i) => {
          expect(Math.abs(value / (rows[i]?.values[name] ?? Number.NaN) - 1), `${name} ${i}`).toBeLessThan(
            1e-9,
          );
        });
      }
    },
  );
});

describe("pictures from the notebook", () => {
  it("are listed with their part, taken into their places by keyboard, and read", async () => {
    await openSetup(16);
    for (const [role, frame] of [
      ["hot", sixteen.hot],
      ["cold", sixteen.cold],
    ] as const) {
      const response = await fetch(
        new URL(`api/notebook/pictures?role=${role}&name=kept-${role}.png`, server.url),
        {
          method: "POST",
          headers: { "content-type": "application/octet-stream", origin: new URL(server.url).origin },
          body: encodePng(frame) as Uint8Array<ArrayBuffer>,
        },
      );
      expect(response.status).toBe(201);
    }
    await page.getByRole("button", { name: "from the notebook" }).focus();
    await page.keyboard.press("Enter");
    const list = page.getByRole("list", { name: "Pictures in the notebook" });
    await list.locator("li").nth(1).waitFor();
    // From the button by Tab into the list; each choice leaves the focus where it is.
    for (const role of ["cold", "hot"]) {
      for (let i = 0; i < 4; i++) {
        await page.keyboard.press("Tab");
        if (
          (await page.evaluate(() => document.activeElement?.textContent ?? "")).startsWith(`${role}: kept-`)
        )
          break;
      }
      expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(
        new RegExp(`^${role}: kept-`),
      );
      await page.keyboard.press("Enter");
      await expect
        .poll(() => page.locator(".well", { hasText: role }).first().textContent())
        .toContain(`kept-${role}.png`);
    }
    await read("kept-hot.png");
    expect(await number("column gradient")).toBeLessThan(0);
  }, 120_000);
});
