import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { encodePng } from "../../src/picture/index.ts";
import { readPicture } from "../../src/reading/index.ts";
import { forecast, type JsonObject, parseSetup } from "../../src/setup/index.ts";
import { axeFindings } from "./bench-page.ts";
import { openForEachTest, page } from "./page-tests.ts";

const demo = JSON.parse(
  readFileSync(fileURLToPath(new URL("../../examples/blue-twins.json", import.meta.url)), "utf8"),
) as JsonObject;
/** A smaller sensor with the same field of view, so that the fit is quick. */
const small: JsonObject = {
  ...demo,
  camera: {
    ...(demo["camera"] as JsonObject),
    pixel: "4.8 um",
    columns: 640,
    rows: 400,
    rate: "480000 /s",
    fullWell: 60000,
  },
};
const setup = parseSetup(small);
/** Another exposure than the one that the page foretells. */
const hot = forecast({ ...setup, camera: { ...setup.camera, seed: 7 } });
const cold = forecast(setup, { cold: true });

openForEachTest({ width: 1280, height: 900 });

const png = (name: string, bytes: Uint8Array) => ({
  name,
  mimeType: "image/png",
  buffer: Buffer.from(bytes),
});
const hotFile = png("twins.png", encodePng(hot.frame));
const coldFile = png("twins-cold.png", encodePng(cold.frame));

async function openSmall(): Promise<void> {
  await page.locator("input[type=file][accept*=json]").setInputFiles({
    name: "small.json",
    mimeType: "application/json",
    buffer: Buffer.from(JSON.stringify(small)),
  });
}
const number = async (label: string): Promise<number> =>
  Number(
    await page.locator(".measure .numbers tr", { hasText: label }).locator("data").getAttribute("value"),
  );

describe("measuring on the page", () => {
  it("gives the numbers of the command line's own function for the same files, and shows where they come from", async () => {
    await openSmall();
    await page.getByRole("button", { name: "Measure", exact: true }).click();
    await page.getByLabel(/^hot picture/).setInputFiles(hotFile);
    await page.getByLabel(/^cold picture/).setInputFiles(coldFile);
    await page.getByRole("button", { name: "read it" }).click();
    await page.waitForSelector(".measure .fitted", { timeout: 150_000 });
    const reading = readPicture({ hot: hot.frame, cold: cold.frame, setup });
    for (const [label, want] of [
      ["column gradient", reading.columnGradient.value],
      ["column density", reading.columnDensity.value],
      ["strength ratio", reading.fRatio?.value ?? Number.NaN],
      ["zero between the lines", reading.zeroBetweenLines?.measured.value ?? Number.NaN],
    ] as const)
      expect(Math.abs((await number(label)) / want - 1), label).toBeLessThan(1e-9);
    expect((await number("column gradient")) / hot.vapour.middle.columnGradient).toBeCloseTo(1, 1);

    // What belongs to it: budget, scale, what the fit leaves over, the forecast beside it.
    expect(await page.locator(".budget tbody tr").count()).toBeGreaterThan(3);
    expect(await page.locator(".lamp-scale").textContent()).toContain("no lamp frame");
    const derived = await page.locator(".derived li").allTextContents();
    expect(derived.join("\n")).toContain(
      `oscillator curve: χ2 ${reading.derived.oscillatorCurve.chiSquare.toFixed(0)} over ${reading.derived.oscillatorCurve.degreesOfFreedom}`,
    );
    expect(derived.join("\n")).toMatch(/bends like an even wedge of [\d.]+ ± [\d.]+ degrees/);
    const pixels = (): Promise<string> =>
      page.evaluate(
        () => document.querySelector<HTMLCanvasElement>(".measure .plate canvas")?.toDataURL() ?? "",
      );
    const seen = new Set([await pixels()]);
    for (const face of ["cold", "left over", "forecast", "difference", "overlay"]) {
      await page.locator(".measure").getByRole("radio", { name: face, exact: true }).check({ force: true });
      await expect.poll(async () => !seen.has(await pixels()), { timeout: 60_000, message: face }).toBe(true);
      seen.add(await pixels());
    }

    // Blinking: both pictures in turn, each standing long enough to be no flash.
    await page.locator(".measure").getByRole("radio", { name: "blink", exact: true }).check({ force: true });
    const turns: { readonly picture: string; readonly at: number }[] = [];
    const until = Date.now() + 6000;
    while (Date.now() < until) {
      const picture = await pixels();
      if (picture !== turns.at(-1)?.picture) turns.push({ picture, at: Date.now() });
    }
    expect(new Set(turns.map(({ picture }) => picture)).size).toBe(2);
    expect(turns.length).toBeGreaterThan(3);

    // Marks by hand: as found they say what the fit says; moved by keys and mouse, added and struck, the numbers follow.
    await page.locator(".measure").getByRole("radio", { name: "marks", exact: true }).check({ force: true });
    const byHand = async (): Promise<number> =>
      Number(await page.locator("data.hand-gradient").getAttribute("value", { timeout: 30_000 }));
    const found = await byHand();
    expect(found / reading.columnGradient.value).toBeGreaterThan(0.95);
    expect(found / reading.columnGradient.value).toBeLessThan(1.05);
    const mark = page.locator(".hand-mark").nth(3);
    const before = (await mark.getAttribute("aria-label")) ?? "";
    const rowIn = (label: string | null): number => Number(/row ([\d.]+)/.exec(label ?? "")?.[1]);
    await mark.focus();
    for (const [keys, rows] of [
      ["ArrowUp", -1],
      ["Shift+ArrowDown", 10],
      ["Alt+ArrowUp", -0.1],
    ] as const) {
      const row = rowIn(await mark.getAttribute("aria-label"));
      await page.keyboard.press(keys);
      expect(rowIn(await mark.getAttribute("aria-label")) - row, keys).toBeCloseTo(rows, 1);
    }
    await expect.poll(byHand).not.toBe(found);
    await page.getByRole("button", { name: "marks as found" }).click();
    expect(await page.locator(".hand-mark").nth(3).getAttribute("aria-label")).toBe(before);
    await expect.poll(byHand).toBe(found);
    await mark.scrollIntoViewIfNeeded();
    const box = await mark.boundingBox();
    if (box === null) throw new Error("the mark is not shown");
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 - 20, { steps: 4 });
    await page.mouse.up();
    await expect.poll(byHand).not.toBe(found);
    await mark.focus();
    await page.keyboard.press("Delete");
    expect(await mark.getAttribute("aria-label")).toMatch(/struck$/);
    await expect.poll(async () => Math.abs((await byHand()) / found - 1)).toBeLessThan(0.02);
    const count = await page.locator(".hand-mark").count();
    await page.getByRole("button", { name: "add a mark" }).click();
    expect(await page.locator(".hand-mark").count()).toBe(count + 1);
    expect(await axeFindings(page)).toEqual([]);

    await page.getByRole("button", { name: "is anything wrong with it?" }).click();
    await page.waitForSelector(".diagnosis li", { timeout: 150_000 });
    expect(await page.locator(".diagnosis li").first().textContent()).toContain("As predicted");
    // A setup that foretells another vapour: the diagnosis says so, and where on the picture it shows.
    await page.getByRole("textbox", { name: "below", exact: true }).fill("305 degC");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "read it" }).click();
    await page.waitForSelector(".diagnosis", { state: "detached", timeout: 150_000 });
    await page.getByRole("button", { name: "is anything wrong with it?" }).click();
    await page.waitForSelector(".diagnosis li", { timeout: 150_000 });
    expect(await page.locator(".diagnosis li").first().textContent()).toMatch(
      /too thin.*At the bench: Raise/s,
    );
    await page.getByRole("button", { name: "mark on the picture" }).first().click();
    expect(await page.locator(".evidence-mark").count()).toBeGreaterThan(0);
    for (const theme of ["paper", "lab", "red"]) {
      await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
      expect(await axeFindings(page), theme).toEqual([]);
    }
  }, 400_000);

  it("lets a newcomer measure practice pictures by keyboard alone", async () => {
    await openSmall();
    const at = () => page.evaluate(() => document.activeElement?.textContent ?? "");
    const tabTo = async (words: RegExp): Promise<void> => {
      for (let i = 0; i < 80 && !words.test(await at()); i++) await page.keyboard.press("Tab");
      expect(await at()).toMatch(words);
    };
    await page.getByRole("textbox", { name: "Title of the setup" }).focus();
    await tabTo(/^Measure$/);
    await page.keyboard.press("Enter");
    await page.waitForSelector(".wells");
    await tabTo(/^practice pictures/);
    await page.keyboard.press("Enter");
    await page.waitForSelector(".measure .fitted", { timeout: 200_000 });
    // The lamp's lines are all recognised, and the wavelength scale is theirs.
    expect(await page.locator(".lamp-scale").textContent()).toContain("Taken from the lamp's lines");
    expect(await page.locator(".lamp-scale tbody tr").count()).toBeGreaterThanOrEqual(3);
    await tabTo(/^what were they made with/);
    await page.keyboard.press("Enter");
    const told = (await page.locator(".truth").textContent()) ?? "";
    const sigmas = [...told.matchAll(/% off, ([\d.]+) of its/g)].map((match) => Number(match[1]));
    expect(sigmas).toHaveLength(2);
    for (const each of sigmas) expect(each).toBeLessThan(3);

    // On by keyboard: what the plate shows by arrow keys, a mark moved, struck and added, the numbers following.
    const face = () =>
      page.evaluate(() => document.querySelector(".measure .plate canvas")?.getAttribute("data-face"));
    const inFaces = () =>
      page.evaluate(
        () => document.activeElement?.closest("fieldset")?.textContent?.includes("blink") ?? false,
      );
    for (let i = 0; i < 80 && !(await inFaces()); i++) await page.keyboard.press("Shift+Tab");
    for (const next of ["cold", "lamp", "left over", "marks"]) {
      await page.keyboard.press("ArrowRight");
      await expect.poll(face).toBe(next);
    }
    const byHand = async (): Promise<number> =>
      Number(await page.locator("data.hand-gradient").getAttribute("value", { timeout: 30_000 }));
    const found = await byHand();
    const label = () => page.evaluate(() => document.activeElement?.getAttribute("aria-label") ?? "");
    for (let i = 0; i < 40 && !(await label()).startsWith("mark 4 "); i++)
      await page.keyboard.press("Shift+Tab");
    const rowOf = (text: string): number => Number(/row ([\d.]+)/.exec(text)?.[1]);
    const began = rowOf(await label());
    await page.keyboard.press("Shift+ArrowUp");
    expect(rowOf(await label())).toBeCloseTo(began - 10, 1);
    await expect.poll(byHand).not.toBe(found);
    await page.keyboard.press("Delete");
    expect(await label()).toMatch(/struck$/);
    await tabTo(/^add a mark$/);
    await page.keyboard.press("Enter");
    await expect.poll(label).toMatch(/^mark \d+ at column 320/);
    await page.keyboard.press("ArrowLeft");
    expect(await label()).toMatch(/column 319/);
    for (let i = 0; i < 60 && !(await inFaces()); i++) await page.keyboard.press("Tab");
    for (const next of ["forecast", "blink", "difference", "overlay"]) {
      await page.keyboard.press("ArrowRight");
      await expect.poll(face).toBe(next);
    }
  }, 400_000);

  it("measures a film frame by frame, as photographs", async () => {
    await openSmall();
    await page.getByRole("button", { name: "Measure", exact: true }).click();
    // The browser records a still picture for a second; what it makes of it is coarse, so the numbers are too.
    const film = await page.evaluate(async (base64) => {
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      const picture = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [picture.width, picture.height];
      // A camera's film has no transparency.
      const drawing = canvas.getContext("2d", { alpha: false });
      if (drawing === null) throw new Error("no canvas");
      const recorder = new MediaRecorder(canvas.captureStream(10), {
        mimeType: "video/webm;codecs=vp8",
        videoBitsPerSecond: 20e6,
      });
      const parts: Blob[] = [];
      recorder.ondataavailable = ({ data }) => parts.push(data);
      recorder.start();
      for (let i = 0; i < 12; i++) {
        drawing.drawImage(picture, 0, 0);
        await new Promise((resolve) => setTimeout(resolve, 100));
      }
      await new Promise((resolve) => {
        recorder.onstop = resolve;
        recorder.stop();
      });
      const recorded = new Uint8Array(await new Blob(parts).arrayBuffer());
      let text = "";
      for (const byte of recorded) text += String.fromCharCode(byte);
      return btoa(text);
    }, hotFile.buffer.toString("base64"));
    await page.getByLabel("film to be measured").setInputFiles({
      name: "run.webm",
      mimeType: "video/webm",
      buffer: Buffer.from(film, "base64"),
    });
    await page.getByLabel(/^cold picture/).setInputFiles(coldFile);
    await page.getByLabel("one frame of").fill("4");
    await page.getByLabel("one frame of").press("Enter");
    await page.getByRole("button", { name: "measure the film" }).click();
    await expect
      .poll(() => page.locator(".film [role=status]").textContent(), { timeout: 200_000 })
      .toMatch(/^\d+ frames read\.$/);
    const gradients = await page
      .locator(".film-table tr td:nth-child(2) data")
      .evaluateAll((all) => all.map((each) => Number(each.getAttribute("value"))));
    expect(gradients.length).toBeGreaterThan(1);
    for (const gradient of gradients)
      expect(Math.abs(gradient / hot.vapour.middle.columnGradient - 1)).toBeLessThan(0.1);
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "save the table" }).click();
    const table = readFileSync(await (await download).path(), "utf8")
      .trim()
      .split("\n");
    expect(table).toHaveLength(gradients.length + 1);
    expect(Number(table[1]?.split(",")[1])).toBe(gradients[0]);
  }, 300_000);

  it("opens for a drop anywhere, averages dark frames, and refuses what is no picture in one sentence", async () => {
    await page.evaluate(() => {
      const files = new DataTransfer();
      for (const name of ["run-dark-1.png", "run-dark-2.png", "broken.png"])
        files.items.add(new File([Uint8Array.of(137, 80, 78, 71, 13, 10)], name));
      document
        .querySelector(".plate")
        ?.dispatchEvent(new DragEvent("drop", { bubbles: true, cancelable: true, dataTransfer: files }));
    });
    await page.waitForSelector(".wells");
    expect(await page.locator(".well", { hasText: "dark" }).textContent()).toContain("2 frames, averaged");
    await page.getByRole("button", { name: "read it" }).click();
    await expect.poll(() => page.locator(".wells .fault").textContent()).toMatch(/^broken\.png: expected/);
    await page.getByRole("button", { name: "take out the dark picture" }).click();
    expect(await page.locator(".well", { hasText: "dark" }).textContent()).toContain("light shut off");
  });
});
