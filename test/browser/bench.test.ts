import { describe, expect, it } from "vitest";
import { axeFindings, litShare, nextPicture, openBench, pictureOf, settled } from "./bench-page.ts";
import { browser, context, faults, openForEachTest, page, server } from "./page-tests.ts";

openForEachTest();

const field = (name: string) => page.getByRole("textbox", { name, exact: true });
const choose = (name: string) => page.getByRole("radio", { name, exact: true });

async function type(name: string, text: string): Promise<void> {
  await field(name).fill(text);
  await field(name).press("Enter");
}

describe("the bench in a browser", () => {
  it("opens with the demo: a picture, its words, the laboratory said to be invented", async () => {
    expect(await page.getByRole("textbox", { name: "Title of the setup" }).inputValue()).toBe("Blue twins");
    expect(await page.locator(".notes-line").textContent()).toMatch(/invented/i);
    expect(await litShare(page)).toBeGreaterThan(0.005);
    const words = await page.locator(".plate figcaption").textContent();
    expect(words).toMatch(/predicted picture of Blue twins with the tube hot/);
    expect(words).toMatch(/455\.66 nm vacuum cuts a gap of 0\.\d+ nm half width/);
  });

  it("opens the fields of each element that is chosen", async () => {
    for (const [name, expected] of [
      ["halogen lamp", "lamp temperature"],
      ["condenser", undefined],
      ["level slit", "level slit"],
      ["collimator", "beam height"],
      ["vapour tube", "gas pressure"],
      ["focusing lens", "focusing lens"],
      ["plumb slit", "plumb slit"],
      ["second collimator", "second collimator"],
      ["direct-vision prism", "flint apex"],
      ["camera lens", "middle of the picture"],
      ["camera", "exposure"],
    ] as const) {
      await choose(name).check();
      expect(await choose(name).isChecked(), name).toBe(true);
      if (expected !== undefined) expect(await field(expected).count(), expected).toBe(1);
    }
  });

  it("says what a field does, and where its value comes from, when it is reached", async () => {
    await choose("vapour tube").check();
    await field("below").focus();
    await page
      .locator(".tell", { hasText: "Wall temperature along the bottom of the heated length" })
      .waitFor();
  });

  it("says where the light went, in tints over the picture and in a table that sums to all of it", async () => {
    const untinted = await pictureOf(page);
    await choose("tinted by where the light went").check();
    await nextPicture(page, untinted);
    const table = page.getByRole("table", { name: /^Where the light went/ });
    await table.waitFor();
    const shares = (await table.getByRole("cell").allTextContents()).map(Number.parseFloat);
    expect(shares).toHaveLength(9);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(100, 0);
    const tinted = await pictureOf(page);
    await choose("plain").check();
    expect(await nextPicture(page, tinted)).toBe(untinted);
  });

  it("follows a change, takes it back, keeps it over a reload and carries it in a link", async () => {
    const first = await pictureOf(page);
    await type("below", "300 degC");
    const hotter = await nextPicture(page, first);
    await page.getByRole("button", { name: /^undo/ }).click();
    expect(await nextPicture(page, hotter)).toBe(first);
    await page.getByRole("button", { name: "redo" }).click();
    expect(await nextPicture(page, first)).toBe(hotter);

    await page.waitForTimeout(400);
    await page.reload();
    await settled(page);
    expect(await field("below").inputValue()).toMatch(/^300\s°C$/u);
    expect(await pictureOf(page)).toBe(hotter);

    await choose("camera").check();
    await page.getByRole("radio", { name: "vacuum" }).check({ force: true });
    await page.getByRole("button", { name: "copy link" }).click();
    await expect.poll(() => page.url(), { timeout: 10_000 }).toContain("#bench=");
    const elsewhere = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const other = await openBench(elsewhere, page.url(), faults);
    expect(await pictureOf(other)).toBe(hotter);
    expect(await other.getByRole("radio", { name: "camera", exact: true }).isChecked()).toBe(true);
    expect(await other.getByRole("radio", { name: "vacuum" }).isChecked()).toBe(true);
    await elsewhere.close();
  });

  it("answers while a rule is dragged, as one step to be taken back", async () => {
    const first = await pictureOf(page);
    const rule = page.getByRole("slider", { name: "below, drag" });
    const box = await rule.boundingBox();
    if (box === null) throw new Error("the rule is not shown");
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    for (let i = 1; i <= 12; i++)
      await page.mouse.move(box.x + box.width / 2 + i * 2, box.y + box.height / 2);
    await page.mouse.up();
    const dragged = await nextPicture(page, first);
    expect(dragged).not.toBe(first);
    await page.getByRole("button", { name: /^undo: below/ }).click();
    expect(await nextPicture(page, dragged)).toBe(first);
  });

  it("moves what is dragged along the rail, snapping to centimetres, as one step to be taken back", async () => {
    const stand = page.locator("label.stand", { has: choose("vapour tube") });
    const left = async () => (await stand.boundingBox())?.x ?? Number.NaN;
    const before = await left();
    const box = await stand.boundingBox();
    if (box === null) throw new Error("the tube is not shown");
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 10; i++) await page.mouse.move(x - 2 * i, y);
    await page.mouse.up();
    await expect.poll(left).toBeLessThan(before - 8);
    expect(await choose("vapour tube").isChecked()).toBe(true);
    await page.getByText(/finer settings/).click();
    await expect.poll(() => field("collimator to tube").inputValue()).toMatch(/^[1-6]0\s?mm$/u);
    await page.getByRole("button", { name: /^undo: vapour tube moved/ }).click();
    await expect.poll(left).toBeCloseTo(before, 0);
    await choose("vapour tube").focus();
    await page.keyboard.press("Shift+ArrowRight");
    expect(await field("collimator to tube").inputValue()).toMatch(/^80\s?mm$/u);
    await page.keyboard.press("Alt+Shift+ArrowLeft");
    expect(await field("collimator to tube").inputValue()).toMatch(/^79\s?mm$/u);
    expect(await choose("vapour tube").isChecked()).toBe(true);
  });

  it("can be worked by keyboard alone", async () => {
    const first = await pictureOf(page);
    const at = () =>
      page.evaluate(
        () => document.activeElement?.getAttribute("aria-label") ?? document.activeElement?.id ?? "",
      );
    for (let i = 0; i < 30 && (await at()) !== "vapour tube"; i++) await page.keyboard.press("Tab");
    expect(await at()).toBe("vapour tube");
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("ArrowLeft");
    expect(await at()).toBe("level slit");
    await page.keyboard.press("Tab");
    expect(await at()).toBe("level slit, drag");
    await page.keyboard.press("Tab");
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type("60 um");
    await page.keyboard.press("Enter");
    const wider = await nextPicture(page, first);
    await page.keyboard.press("Shift+Tab");
    expect(await at()).toBe("level slit, drag");
    for (let i = 0; i < 40; i++) await page.keyboard.press("ArrowLeft");
    const narrower = await nextPicture(page, wider);
    await page.keyboard.press("ControlOrMeta+z");
    const back = await nextPicture(page, narrower);
    expect(back).not.toBe(narrower);

    for (let i = 0; i < 40 && (await at()) !== "Line in the picture"; i++) await page.keyboard.press("Tab");
    expect(await at()).toBe("Line in the picture");
    await page.keyboard.press("ArrowRight");
    expect(await page.locator(".plate-reading").textContent()).toMatch(/nm air.*n − 1 = .*passes.*group/s);
    const spoken = await page
      .getByRole("slider", { name: "Line in the picture" })
      .getAttribute("aria-valuetext");
    expect(spoken).toMatch(/\d nm air; n minus 1 = .*bends .* mrad (?:up|down)/);
  });

  it("mends a finding with its link", async () => {
    await choose("camera").check();
    await type("exposure", "1 s");
    const finding = page.locator(".finding", { hasText: "overexposed" });
    await finding.getByRole("button").click();
    await expect.poll(() => finding.count()).toBe(0);
    expect(await page.getByRole("button", { name: /^undo/ }).textContent()).toContain("shorten the exposure");
  });

  it("says in one sentence what is wrong with a value, and keeps the last good picture", async () => {
    const first = await pictureOf(page);
    await type("below", "285 mm");
    expect(await page.locator(".row .fault").textContent()).toMatch(/^below: expected .*"285 mm"/);
    await type("below", "285 degC");
    expect(await page.locator(".row .fault").count()).toBe(0);
    expect(await pictureOf(page)).toBe(first);
    await choose("collimator").check();
    await type("beam size", "50 mm");
    await expect
      .poll(() => page.locator(".trouble").textContent())
      .toMatch(/path\.beamSize: expected a beam inside the bore/);
    expect(await litShare(page)).toBeGreaterThan(0.005);
    await page.getByRole("button", { name: /^undo/ }).click();
    await expect.poll(() => page.locator(".trouble").count()).toBe(0);
  });

  it("keeps two tabs apart", async () => {
    const other = await openBench(context, server.url, faults);
    await other.getByRole("textbox", { name: "Title of the setup" }).fill("Second tab");
    await other.keyboard.press("Enter");
    await type("below", "275 degC");
    await page.waitForTimeout(500);
    await Promise.all([page.reload(), other.reload()]);
    await Promise.all([settled(page), settled(other)]);
    expect(await page.getByRole("textbox", { name: "Title of the setup" }).inputValue()).toBe("Blue twins");
    expect(await other.getByRole("textbox", { name: "Title of the setup" }).inputValue()).toBe("Second tab");
    expect(await other.getByRole("textbox", { name: "below", exact: true }).inputValue()).toMatch(/^285/);
  });

  it("passes the checks for accessibility in every theme, enlarged figure included", async () => {
    for (const theme of ["paper", "lab", "red"]) {
      await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
      await settled(page);
      await page.locator(".sheet summary").click();
      expect(await axeFindings(page), theme).toEqual([]);
      await page
        .getByRole("button", { name: /^enlarge/ })
        .first()
        .press("Enter");
      expect(await axeFindings(page), `${theme}, enlarged`).toEqual([]);
      await page.keyboard.press("Escape");
      await page.locator(".sheet summary").click();
    }
  });

  it("shows nothing but red in the red theme", async () => {
    await page.getByRole("radio", { name: "red", exact: true }).check({ force: true });
    await page.mouse.move(900, 600);
    await settled(page);
    const shot = await page.screenshot({ fullPage: true });
    const strongest = await page.evaluate(async (base64) => {
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
    expect(strongest).toBeLessThanOrEqual(2);
  });

  it("fits a page at 200 % zoom and a narrow one without scrolling sideways", async () => {
    for (const width of [640, 390]) {
      await page.setViewportSize({ width, height: 400 });
      const overflow = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      await expect.poll(overflow, { message: `${width} px` }).toBeLessThanOrEqual(0);
    }
  });

  it("prints the picture and its numbers black on white in every theme, without the controls", async () => {
    for (const theme of ["paper", "lab", "red"]) {
      await page.emulateMedia({ media: "screen" });
      await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
      await page.emulateMedia({ media: "print" });
      const colours = () =>
        page.evaluate(() => {
          const { backgroundColor, color } = getComputedStyle(document.documentElement);
          return `${color} on ${backgroundColor}`;
        });
      await expect.poll(colours, { message: theme }).toBe("rgb(0, 0, 0) on rgb(255, 255, 255)");
    }
    await page.locator(".plate canvas.upper").waitFor({ state: "visible" }); // a new theme paints the picture anew
    expect(await page.locator(".card-value").first().isVisible()).toBe(true);
    for (const hidden of [".doings", ".rule"])
      expect(await page.locator(hidden).first().isVisible(), hidden).toBe(false);
  });
});
