import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { axeFindings } from "./bench-page.ts";
import { context, faults, openForEachTest, page, server } from "./page-tests.ts";

openForEachTest();

const words = (window: Page): Promise<string | null> =>
  window.locator(".audience .audience-words").last().textContent();
const shown = (window: Page): Promise<string> =>
  window.evaluate(() => document.querySelector<HTMLCanvasElement>(".audience canvas")?.toDataURL() ?? "");

async function openSecond(): Promise<Page> {
  await page.getByRole("button", { name: "Photograph", exact: true }).click();
  await page.waitForSelector(".audience-controls");
  const second = await context.newPage();
  second.on("pageerror", (error) => faults.push(error.message));
  await second.goto(new URL("audience", server.url).href);
  await second.waitForSelector(".audience canvas", { timeout: 30_000 });
  return second;
}

describe("what the audience sees", () => {
  it("is a picture that follows the hand while it drags, and rests with it", async () => {
    await page.getByRole("radio", { name: "vapour tube", exact: true }).check();
    const second = await openSecond();
    const seen = new Set([await shown(second)]);
    // Dragged without a pause, so that no picture rests in between; what comes meanwhile has followed the hand.
    const dragging = page.evaluate(async () => {
      const rule = document.querySelector<HTMLInputElement>('input[type=range][aria-label="below, drag"]');
      if (rule === null) throw new Error("no rule");
      for (let i = 0; i < 90; i++) {
        rule.value = String(300 + 4 * i);
        rule.dispatchEvent(new Event("input", { bubbles: true }));
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    });
    let over = false;
    void dragging.finally(() => {
      over = true;
    });
    while (!over) {
      seen.add(await shown(second));
      await second.waitForTimeout(50);
    }
    expect(seen.size).toBeGreaterThan(4);
    await page.waitForSelector("[data-settled=true]", { timeout: 30_000 });
    await expect
      .poll(() =>
        second.locator(".audience canvas").evaluate((canvas) => (canvas as HTMLCanvasElement).width),
      )
      .toBe(1280);
  }, 120_000);

  it("has labels one at a time on a key in either window, fills the screen on F, and has no controls at all", async () => {
    const second = await openSecond();
    expect(await words(second)).toBe("");
    expect(await second.locator("button, input, select, a, nav, menu").count()).toBe(0);
    await second.keyboard.press("Space");
    expect(await words(second)).toBe("Every colour has its own place from left to right.");
    await expect.poll(() => page.locator(".audience-now").textContent()).toContain("its own place");
    await second.keyboard.press("PageDown");
    await second.keyboard.press("ArrowLeft");
    expect(await words(second)).toBe("Every colour has its own place from left to right.");
    await second.keyboard.press("PageUp");
    expect(await words(second)).toBe("");
    // All of them in turn, each in one line of letters that the last row reads.
    const said: (string | null)[] = [];
    for (let i = 0; i < 12; i++) {
      await second.keyboard.press("ArrowRight");
      const now = await words(second);
      if (now === "") break;
      said.push(now);
    }
    expect(said).toHaveLength(new Set(said).size);
    expect(said.length).toBeGreaterThanOrEqual(5);
    await second.keyboard.press("f");
    await expect.poll(() => second.evaluate(() => document.fullscreenElement !== null)).toBe(true);
    // A deeper room has higher letters: h = d tan 20 minutes of arc.
    const letters = (): Promise<number> =>
      second
        .locator(".audience")
        .evaluate((el) => Number.parseFloat(getComputedStyle(el).getPropertyValue("--letters")));
    const before = await letters();
    await page.getByLabel("from the wall to the last row, m").fill("20");
    await page.keyboard.press("Enter");
    await expect.poll(letters).toBeCloseTo(2 * before, 0);
    for (const theme of ["lab", "red", "paper"]) {
      await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
      await expect.poll(() => second.evaluate(() => document.documentElement.dataset["theme"])).toBe(theme);
      expect(await axeFindings(second), theme).toEqual([]);
    }
  }, 120_000);

  it("is shown on this very screen too, by keyboard alone, and left by Escape", async () => {
    await page.getByRole("button", { name: "Photograph", exact: true }).click();
    await page.waitForSelector(".audience-controls");
    await page.getByRole("button", { name: "open a second window" }).focus();
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("full screen here");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".audience canvas");
    await expect.poll(() => page.evaluate(() => document.fullscreenElement !== null)).toBe(true);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => words(page)).toBe("Every colour has its own place from left to right.");
    await page.keyboard.press("Escape");
    await page.waitForSelector(".audience", { state: "detached" });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("full screen here");
  });
});
