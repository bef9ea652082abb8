import { describe, expect, it } from "vitest";
import { axeFindings, nextPicture, pictureOf } from "./bench-page.ts";
import { openForEachTest, page } from "./page-tests.ts";

openForEachTest();

const button = (name: string | RegExp) => page.getByRole("button", { name, exact: typeof name === "string" });
const open = (leaf: string) => button(leaf).click();
const LONG = { timeout: 120_000 };

/** axe finds nothing in any theme. */
async function inEveryTheme(): Promise<void> {
  for (const theme of ["paper", "lab", "red"]) {
    await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
    expect(await axeFindings(page), theme).toEqual([]);
  }
}

/** The strongest green or blue of any pixel under the line of the day. */
async function strongestNotRed(): Promise<number> {
  const shot = await page.locator("#leaf").screenshot();
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const drawing = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d");
    if (drawing === null) throw new Error("no canvas");
    drawing.drawImage(bitmap, 0, 0);
    const { data } = drawing.getImageData(0, 0, bitmap.width, bitmap.height);
    let most = 0;
    for (let i = 0; i < data.length; i += 4) most = Math.max(most, data[i + 1] ?? 0, data[i + 2] ?? 0);
    return most;
  }, shot.toString("base64"));
}

async function fitsNarrow(): Promise<void> {
  for (const width of [640, 390]) {
    await page.setViewportSize({ width, height: 600 });
    const overflow = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    await expect.poll(overflow, { message: `${width} px` }).toBeLessThanOrEqual(0);
  }
}

describe("choosing", () => {
  it("finds setups for a wish, opens one with one click, and takes it back", async () => {
    const first = await pictureOf(page);
    await open("Choose");
    await page.getByLabel("then").first().selectOption("gentlest");
    await page.getByLabel("half-gap at most").fill("0.2 nm");
    await button("find setups").click();
    await page.waitForSelector(".found table", LONG);
    const rows = page.locator(".found tbody tr");
    expect(await rows.count()).toBeGreaterThan(1);
    expect(await rows.first().locator("td").last().textContent()).toMatch(/half-gap at most/);
    await button("open 1").click();
    const chosen = await nextPicture(page, first);
    await button(/^undo: choose setup 1/).click();
    expect(await nextPicture(page, chosen)).toBe(first);
    await inEveryTheme();
    await fitsNarrow();
  }, 240_000);

  it("stops when asked to, and says in one sentence what is wrong with a wish", async () => {
    await open("Choose");
    await button("put the metals side by side").click();
    await button("stop").click();
    expect(await page.getByRole("progressbar").count()).toBe(0);
    await page.getByLabel("half-gap at most").fill("0.2 kg");
    await button("find setups").click();
    await expect.poll(() => page.locator(".choose .fault").textContent(), LONG).toMatch(/halfGap.*"0.2 kg"/);
  }, 180_000);

  it("says what to improve first", async () => {
    await open("Choose");
    await button("reckon the errors").click();
    await page.waitForSelector(".budgets table", LONG);
    expect(await page.locator(".choose .first li").first().textContent()).toMatch(/height .* ± .*: .* first/);
  }, 180_000);
});

describe("preparing", () => {
  it("keeps the steps shut until cautions are read and approval is given, and never remembers the approval", async () => {
    await open("Prepare");
    await page.waitForSelector(".run-sheet", LONG);
    const steps = page.locator(".run-sheet .steps");
    expect(await steps.isVisible()).toBe(false);
    for (const box of await page.locator(".cautions-read input").all()) await box.check();
    expect(await page.locator(".gate").textContent()).toMatch(/approval is not given/);
    await page.locator(".approval input[type=checkbox]").check();
    expect(await steps.isVisible()).toBe(true);
    expect(await page.locator(".step-picture img").count()).toBeGreaterThan(7);
    for (const box of await page.locator(".run-sheet input[type=checkbox]").all()) {
      const size = await box.locator("xpath=..").boundingBox();
      expect(size?.height ?? 0).toBeGreaterThanOrEqual(44);
    }
    await page.getByLabel("names", { exact: true }).fill("A. B.");
    await page.getByLabel("names", { exact: true }).press("Tab");
    await inEveryTheme();
    expect(await strongestNotRed()).toBeLessThanOrEqual(2);
    await fitsNarrow();

    await page.waitForTimeout(400);
    await page.reload();
    await page.waitForSelector(".run-sheet", LONG);
    expect(await page.getByLabel("names", { exact: true }).inputValue()).toBe("A. B.");
    expect(await page.locator(".cautions-read input").first().isChecked()).toBe(true);
    expect(await page.locator(".approval input[type=checkbox]").isChecked()).toBe(false);
  }, 300_000);

  it("prints the sheet alone, whole, in black and white", async () => {
    await open("Prepare");
    await page.waitForSelector(".run-sheet", LONG);
    await page.evaluate(() => {
      globalThis.print = () => undefined;
    });
    await button("print the sheet").click();
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".run-sheet .steps").isVisible()).toBe(true);
    expect(await page.locator(".run-sheet table.log").isVisible()).toBe(true);
    for (const hidden of [".plate", ".bench", ".day-line", ".gate"])
      expect(await page.locator(hidden).first().isVisible(), hidden).toBe(false);
    const ink = await page
      .locator(".run-sheet h4")
      .first()
      .evaluate((el) => getComputedStyle(el).color);
    expect(ink).toBe("rgb(0, 0, 0)");
  }, 180_000);
});

describe("heating", () => {
  it("sets what is logged against what is foretold, by keyboard alone, and keeps it over a reload", async () => {
    await open("Heat");
    await page.waitForSelector(".heat .plot", LONG);
    expect(await page.locator(".heat tbody tr").count()).toBeGreaterThan(4);
    await button("the heater is on now").focus();
    await page.keyboard.press("Enter");
    await expect.poll(() => page.getByRole("timer").textContent(), LONG).toMatch(/^00:0[1-9]/);
    await page.getByLabel("minute", { exact: true }).focus();
    await page.keyboard.type("20");
    await page.keyboard.press("Tab");
    await page.keyboard.type("60");
    await page.keyboard.press("Enter");
    expect(await page.locator(".heat .finding-line").textContent()).toMatch(/mind .*K below the forecast/);

    await page.locator(".logger input[type=file]").setInputFiles({
      name: "logger.csv",
      mimeType: "text/csv",
      buffer: Buffer.from("Zeit;oben;unten\n14:00:00;20,0;20,0\n14:10:00;40,5;66,0\n14:30:00;80,0;310,0\n"),
    });
    await page.locator(".logger").getByLabel("metal").selectOption({ label: "unten" });
    await page.locator(".logger").getByLabel("top").selectOption({ label: "oben" });
    await button("take these readings").click();
    expect(await page.locator(".log-table tbody tr").count()).toBe(4);
    expect(await page.locator(".heat .finding-line").textContent()).toMatch(/stop .*heater off/);
    await inEveryTheme();
    expect(await strongestNotRed()).toBeLessThanOrEqual(2);
    await fitsNarrow();

    await page.waitForTimeout(400);
    await page.reload();
    await page.waitForSelector(".log-table tbody tr", LONG);
    expect(await page.locator(".log-table tbody tr").count()).toBe(4);
    await button("the heater is off now").click();
    expect(await page.locator(".clock").textContent()).toMatch(/Heater off since/);
  }, 300_000);

  it("refuses a file that is no log in one sentence", async () => {
    await open("Heat");
    await page.waitForSelector(".heat .plot", LONG);
    await page.locator(".logger input[type=file]").setInputFiles({
      name: "letter.txt",
      mimeType: "text/plain",
      buffer: Buffer.from("Dear all,\nthe tube is hot.\n"),
    });
    await expect
      .poll(() => page.locator(".logger [role=status]").textContent())
      .toMatch(/^letter\.txt: expected rows/);
  }, 180_000);
});
