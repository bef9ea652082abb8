import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { decodeFrame } from "../../src/cli/files.ts";
import { Notebook } from "../../src/notebook/index.ts";
import { type Server, startServer } from "../../src/server/index.ts";
import { axeFindings, openBench } from "./bench-page.ts";
import { openCamera, openWebcamLeaf, startWebcam, type Webcam } from "./webcam.ts";

let webcam: Webcam;
let server: Server;
let context: BrowserContext;
let page: Page;
let faults: string[];

beforeAll(async () => {
  webcam = await startWebcam();
  server = await startServer({ port: 0 });
}, 120_000);
afterAll(async () => {
  await webcam.close();
  await server.close();
});
beforeEach(async () => {
  faults = [];
  context = await webcam.browser.newContext({
    viewport: { width: 1280, height: 900 },
    permissions: ["camera"],
  });
  await context.addInitScript(COUNT_FRAMES);
  page = await openBench(context, server.url, faults);
  await openWebcamLeaf(page);
});
afterEach(async () => {
  await context.close();
  // No notebook is open, which the page finds out by asking once.
  expect(faults.filter((fault) => !fault.includes("404"))).toEqual([]);
});

interface FrameCounts {
  /** frames taken of the film */
  readonly taken: number;
  /** readings that came back */
  readonly read: number;
  /** the most frames that were taken and not yet read */
  readonly mostUnread: number;
}
/** Counts frames as they are made, and answers as the worker that was sent them gives them. */
const COUNT_FRAMES = `(() => {
  const counts = (window.frameCounts = { taken: 0, read: 0, mostUnread: 0 });
  window.VideoFrame = class extends VideoFrame {
    constructor(...made) {
      super(...made);
      counts.taken += 1;
      counts.mostUnread = Math.max(counts.mostUnread, counts.taken - counts.read);
    }
  };
  window.Worker = class extends Worker {
    constructor(...made) {
      super(...made);
      let frames = 0;
      // Added before the page's own, so that an answer is counted before the next frame is taken.
      this.addEventListener("message", ({ data }) => {
        if (frames > 0 && data.outcome !== undefined) counts.read += 1;
      });
      const post = this.postMessage.bind(this);
      this.postMessage = (message, ...rest) => {
        if (message?.request?.frame !== undefined) frames += 1;
        post(message, ...rest);
      };
    }
  };
})()`;

const value = async (name: string): Promise<number> =>
  Number((await page.locator(`data.${name}`).getAttribute("value", { timeout: 60_000 })) ?? Number.NaN);
const off = async (): Promise<number> => {
  const [gradient, density] = [await value("live-gradient"), await value("live-density")];
  const { middle } = webcam.truth.vapour;
  return Math.max(
    Math.abs(gradient / middle.columnGradient - 1),
    Math.abs(density / middle.columnDensity - 1),
  );
};
const open = (): Promise<void> => openCamera(page);

describe("the live camera", () => {
  it("reads the film of a forecast within 5 % while frames come, frame after frame, and none waits", async () => {
    await open();
    await page.waitForSelector("data.live-gradient", { timeout: 60_000 });
    // Without a cold line the undeflected one is guessed from each frame.
    const offs: number[] = [];
    for (let i = 0; i < 8; i++) {
      offs.push(await off());
      await page.waitForTimeout(300);
    }
    expect(Math.max(...offs)).toBeLessThan(0.05);
    expect(await value("live-rate")).toBeGreaterThan(0);
    expect(await value("live-lag")).toBeGreaterThan(0);
    // No backlog, however slow the machine: a frame is taken only when the one before it has been read.
    const counts = await page.evaluate<FrameCounts>("window.frameCounts");
    expect(counts.read).toBeGreaterThan(3);
    expect(counts.mostUnread).toBe(1);
    expect(await page.locator(".waterfall canvas").isVisible()).toBe(true);
    expect(await page.locator("[aria-label=Level] .meter-large").textContent()).toMatch(/mrad/);
    expect(await page.locator("[aria-label=Focus] .meter-large").textContent()).toMatch(/^\d\.\d\d/);
    // Exposure, histogram with its words, trends beside what is foretold, and a waterfall that is not black.
    expect(await page.locator("[aria-label=Exposure] .meter-large").textContent()).toMatch(/%$/);
    expect(await page.locator(".histogram").getAttribute("aria-label")).toMatch(/full, .*black$/);
    const bars = await page
      .locator(".histogram rect")
      .evaluateAll((all) => all.map((bar) => Number(bar.getAttribute("height"))));
    expect(Math.max(...bars)).toBeGreaterThan(50);
    expect(await page.locator(".trends figure").count()).toBe(2);
    for (const words of await page.locator(".trends figure").allTextContents())
      expect(words).toContain("foretold");
    const lit = await page.locator(".waterfall canvas").evaluate((element) => {
      const canvas = element as HTMLCanvasElement;
      const drawn = canvas.getContext("2d")?.getImageData(0, 0, canvas.width, 8).data ?? [];
      return drawn.filter((value, i) => i % 4 === 0 && value > 60).length / (drawn.length / 4);
    });
    expect(lit).toBeGreaterThan(0.2);
    await page.getByRole("radio", { name: "16", exact: true }).check({ force: true });
    await page.waitForSelector(".live-glass canvas", { timeout: 30_000 });
    await expect.poll(off, { timeout: 30_000 }).toBeLessThan(0.05);
    for (const theme of ["paper", "lab", "red"]) {
      await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
      expect(await axeFindings(page), theme).toEqual([]);
    }
  }, 240_000);

  it("goes on by itself when the camera was unplugged and is back", async () => {
    await open();
    await page.waitForSelector("data.live-gradient", { timeout: 60_000 });
    await page.evaluate(() => {
      const stream = document.querySelector<HTMLVideoElement>(".live-glass video")?.srcObject;
      for (const track of stream instanceof MediaStream ? stream.getTracks() : []) {
        track.stop();
        track.dispatchEvent(new Event("ended"));
      }
    });
    await page.waitForSelector("[data-camera=unplugged]", { state: "attached" });
    expect(await page.locator("[data-camera]").textContent()).toContain(
      "taken up again as soon as it is back",
    );
    const before = await page.locator(".live-glass video").evaluate((v) => (v as HTMLVideoElement).srcObject);
    expect(before).toBeNull();
    await page.evaluate(() => navigator.mediaDevices.dispatchEvent(new Event("devicechange")));
    await page.waitForSelector("[data-camera=live]", { state: "attached", timeout: 30_000 });
    const then = await page.locator(".live-glass video").evaluate((v) => (v as HTMLVideoElement).currentTime);
    await expect
      .poll(() => page.locator(".live-glass video").evaluate((v) => (v as HTMLVideoElement).currentTime))
      .not.toBe(then);
    await expect.poll(off, { timeout: 60_000 }).toBeLessThan(0.05);
  }, 180_000);

  it("works by keyboard alone: opened, averaged, the cold line taken and forgotten, captured, put away", async () => {
    const at = () =>
      page.evaluate(
        () => document.activeElement?.textContent ?? document.activeElement?.getAttribute("aria-label") ?? "",
      );
    const tabTo = async (words: string, key = "Tab"): Promise<void> => {
      for (let i = 0; i < 60 && (await at()) !== words; i++) await page.keyboard.press(key);
      expect(await at()).toBe(words);
    };
    await page.getByRole("button", { name: "Photograph", exact: true }).focus();
    await tabTo("open the camera");
    await page.keyboard.press("Enter");
    await page.waitForSelector("[data-camera=live]", { timeout: 30_000, state: "attached" });
    // The key that will be needed most has the focus.
    await expect.poll(at).toBe("capture (C)");
    await page.waitForSelector("data.live-gradient", { timeout: 60_000 });
    await tabTo("this is the cold line");
    await page.keyboard.press("Enter");
    await expect.poll(at, { timeout: 30_000 }).toBe("forget the cold line");
    await page.keyboard.press("Enter");
    await expect.poll(at, { timeout: 30_000 }).toBe("this is the cold line");
    // Back to the row of averages, whose arrow keys choose.
    for (let i = 0; i < 10; i++) {
      await page.keyboard.press("Shift+Tab");
      if (
        await page.evaluate(
          () => document.activeElement?.closest("[aria-label='Frames averaged'], fieldset") !== null,
        )
      ) {
        const group = await page.evaluate(
          () => document.activeElement?.closest("fieldset")?.textContent ?? "",
        );
        if (group.includes("averaged")) break;
      }
    }
    await page.keyboard.press("ArrowRight");
    await page.waitForSelector(".live-glass canvas", { timeout: 30_000 });
    const download = page.waitForEvent("download", { timeout: 60_000 });
    await page.keyboard.press("c");
    expect((await download).suggestedFilename()).toMatch(/^hot-.*\.png$/);
    await tabTo("put the camera away", "Shift+Tab");
    await page.keyboard.press("Enter");
    await page.waitForSelector("[data-camera=closed]", { state: "attached" });
    expect(await at()).toBe("open the camera");
  }, 180_000);

  it("captures into the notebook with one key where one is open, with its part, to the last sample", async () => {
    const folder = mkdtempSync(join(tmpdir(), "crossprism-capture-"));
    const notebook = Notebook.create(join(folder, "bench"));
    const own = await startServer({ port: 0, notebook: { notebook, decode: decodeFrame } });
    try {
      page = await openBench(context, own.url, faults);
      await openWebcamLeaf(page);
      await openCamera(page);
      await page.waitForSelector("data.live-gradient", { timeout: 60_000 });
      await page.getByRole("radio", { name: "cold", exact: true }).last().check({ force: true });
      await page.keyboard.press("c");
      await expect
        .poll(() => page.locator(".kept-words").textContent(), { timeout: 30_000 })
        .toMatch(/^cold-.*\.png is entry \d+ of the notebook\.$/);
      const { entries } = (await (
        await fetch(new URL("api/notebook/entries?kind=picture", own.url))
      ).json()) as {
        entries: { body: { role: string }; files: { sha256: string }[] }[];
      };
      expect(entries.map(({ body }) => body.role)).toEqual(["cold"]);
      const kept = await fetch(new URL(`api/notebook/files/${entries[0]?.files[0]?.sha256}`, own.url));
      const frame = await decodeFrame(new Uint8Array(await kept.arrayBuffer()), "kept.png");
      expect([frame.columns, frame.rows, frame.channels]).toEqual([640, 480, 1]);
      expect(Uint16Array.from(frame.samples).some((value) => value > 120)).toBe(true);
    } finally {
      await page.close();
      await own.close();
      notebook.close();
      rmSync(folder, { recursive: true });
    }
  }, 180_000);

  it("locks what the camera lets it lock, and warns of what it does not", async () => {
    // A camera whose exposure can be set by hand, whose white balance cannot, and that says nothing of focus.
    await page.evaluate(() => {
      const asked: unknown[] = [];
      Object.assign(globalThis, { asked });
      const track = MediaStreamTrack.prototype as unknown as Record<string, (given?: unknown) => unknown>;
      const settings = track["getSettings"] as () => object;
      let exposureMode = "continuous";
      track["getCapabilities"] = () => ({
        exposureMode: ["continuous", "manual"],
        whiteBalanceMode: ["continuous"],
      });
      track["applyConstraints"] = (given) => {
        asked.push(given);
        exposureMode = "manual";
        return Promise.resolve();
      };
      track["getSettings"] = function (this: unknown) {
        return { ...settings.call(this), exposureMode, whiteBalanceMode: "continuous" };
      };
    });
    await open();
    await expect.poll(() => page.locator(".locks li").count()).toBe(3);
    const [exposure, balance, focus] = await page.locator(".locks li").allTextContents();
    expect(exposure).toBe("exposure locked");
    expect(balance).toMatch(/^white balance cannot be locked: .*grey camera/);
    expect(focus).toMatch(/^focus cannot be locked: .*fix it at the lens/);
    expect(await page.locator(".locks li.alarm").count()).toBe(2);
    expect(await page.evaluate(() => (globalThis as unknown as { asked: unknown[] }).asked)).toEqual([
      { advanced: [{ exposureMode: "manual" }] },
    ]);
  });

  it("captures with one key, and shows the audience its picture, the camera's and words", async () => {
    await open();
    await page.waitForSelector("data.live-gradient", { timeout: 60_000 });
    const download = page.waitForEvent("download", { timeout: 60_000 });
    await page.getByRole("button", { name: "capture (C)" }).focus();
    await page.keyboard.press("c");
    const file = await download;
    expect(file.suggestedFilename()).toMatch(/^hot-.*\.png$/);
    const bytes = readFileSync(await file.path());
    expect(bytes.subarray(1, 4).toString()).toBe("PNG");

    const second = await context.newPage();
    second.on("pageerror", (error) => faults.push(error.message));
    await second.goto(new URL("audience", server.url).href);
    await second.waitForSelector(".audience canvas", { timeout: 30_000 });
    expect(await second.locator(".audience-words").textContent()).toBe("");
    await page.getByRole("button", { name: "next label" }).click();
    await expect
      .poll(() => second.locator(".audience-words").textContent())
      .toBe("Every colour has its own place from left to right.");
    await second.keyboard.press("ArrowRight");
    await expect.poll(() => page.locator(".audience-now").textContent()).toContain("one straight line");
    expect(await second.locator(".audience circle").count()).toBe(1);
    // Ten metres deep, projected 1.5 m high: capitals of 58 mm are 3.88 % of the window.
    const letters = await second
      .locator(".audience")
      .evaluate((el) => Number.parseFloat(getComputedStyle(el).getPropertyValue("--letters")) / innerHeight);
    expect(0.698 * letters).toBeCloseTo(0.05818 / 1.5, 4);
    await page.getByRole("radio", { name: "both", exact: true }).last().check({ force: true });
    await second.waitForSelector(".audience video");
    await expect
      .poll(() => second.locator(".audience video").evaluate((v) => (v as HTMLVideoElement).videoWidth), {
        timeout: 30_000,
      })
      .toBeGreaterThan(0);
    expect(await axeFindings(second)).toEqual([]);
  }, 180_000);
});
