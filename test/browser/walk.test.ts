/** One day at the page from end to end: with the mouse, and by keyboard alone. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { nextPicture, openBench, pictureOf, settled } from "./bench-page.ts";
import { browser, faults, openForEachTest, page } from "./page-tests.ts";

openForEachTest();

const ELEMENTS = [
  "halogen lamp",
  "condenser",
  "level slit",
  "collimator",
  "vapour tube",
  "focusing lens",
  "plumb slit",
  "second collimator",
  "direct-vision prism",
  "camera lens",
  "camera",
] as const;

/** What has the keyboard, by its name. */
const at = () =>
  page.evaluate(() => {
    const element = document.activeElement;
    return element?.getAttribute("aria-label") ?? element?.textContent?.trim() ?? "";
  });
const savedSetup = async (act: () => Promise<void>): Promise<{ vessel: { bottom: string } }> => {
  const [download] = await Promise.all([page.waitForEvent("download"), act()]);
  return JSON.parse(readFileSync(await download.path(), "utf8")) as { vessel: { bottom: string } };
};
const elsewhere = async (url: string): Promise<string> => {
  const other = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const picture = await pictureOf(await openBench(other, url, faults));
  await other.close();
  return picture;
};

describe("a walk through the page", () => {
  it("with the mouse: every element, a change, a finding mended, undo, a file, a reload, a link", async () => {
    for (const name of ELEMENTS) {
      await page.getByRole("radio", { name, exact: true }).check();
      expect(await page.locator(".sheet h2").textContent(), name).not.toBe("");
    }
    await page.getByRole("radio", { name: "vapour tube", exact: true }).check();
    const first = await pictureOf(page);
    await page.getByRole("textbox", { name: "below", exact: true }).fill("300 degC");
    await page.keyboard.press("Enter");
    const hotter = await nextPicture(page, first);

    await page.getByRole("radio", { name: "camera", exact: true }).check();
    await page.getByRole("textbox", { name: "exposure", exact: true }).fill("1 s");
    await page.keyboard.press("Enter");
    const bright = await nextPicture(page, hotter);
    const finding = page.locator(".finding", { hasText: "overexposed" });
    await finding.getByRole("button").click();
    await nextPicture(page, bright);
    await expect.poll(() => finding.count()).toBe(0);
    await page.getByRole("button", { name: /^undo: shorten/ }).click();
    await page.getByRole("button", { name: /^undo: exposure/ }).click();
    await settled(page);
    await expect.poll(() => pictureOf(page)).toBe(hotter);

    const saved = await savedSetup(() => page.getByRole("button", { name: "save file" }).click());
    expect(saved.vessel.bottom).toBe("300 degC");
    await page.waitForTimeout(400);
    await page.reload();
    await settled(page);
    expect(await pictureOf(page)).toBe(hotter);
    await page.getByRole("button", { name: "copy link" }).click();
    await expect.poll(() => page.url()).toContain("#bench=");
    expect(await elsewhere(page.url())).toBe(hotter);
  });

  it("by keyboard alone: the same", async () => {
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let i = 0; i < 120 && !name.test(await at()); i++) await page.keyboard.press("Tab");
      expect(await at()).toMatch(name);
    };
    await tabTo(/^vapour tube$/);
    for (let i = 0; i < ELEMENTS.length; i++) await page.keyboard.press("ArrowRight");
    expect(await at()).toBe("vapour tube");
    const first = await pictureOf(page);
    await tabTo(/^below, drag$/);
    await page.keyboard.press("Tab");
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type("300 degC");
    await page.keyboard.press("Enter");
    const hotter = await nextPicture(page, first);

    await tabTo(/^exposed for, drag$/);
    await page.keyboard.press("Tab");
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type("1 s");
    await page.keyboard.press("Enter");
    const bright = await nextPicture(page, hotter);
    await page.locator(".finding", { hasText: "overexposed" }).waitFor();
    await tabTo(/^shorten the exposure/);
    await page.keyboard.press("Enter");
    await nextPicture(page, bright);
    for (let i = 0; i < 2; i++) {
      await page.locator("body").press("ControlOrMeta+z");
      await settled(page);
    }
    await expect.poll(() => pictureOf(page)).toBe(hotter);

    await tabTo(/^save file$/);
    const saved = await savedSetup(() => page.keyboard.press("Enter"));
    expect(saved.vessel.bottom).toBe("300 degC");
    await page.waitForTimeout(400);
    await page.reload();
    await settled(page);
    expect(await pictureOf(page)).toBe(hotter);
    await tabTo(/^copy link$/);
    await page.keyboard.press("Enter");
    await expect.poll(() => page.url()).toContain("#bench=");
    expect(await elsewhere(page.url())).toBe(hotter);
  });
});
