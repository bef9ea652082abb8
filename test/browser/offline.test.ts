import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startServer } from "../../src/server/index.ts";
import { litShare, openBench, settled } from "./bench-page.ts";
import { launch } from "./find-browser.ts";

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(async () => {
  await browser.close();
});

describe("the page without its server", () => {
  it("opens again, leaf and all, and keeps what was set", async () => {
    const server = await startServer({ port: 0 });
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await openBench(context, server.url, []);
    await page.getByRole("textbox", { name: "below", exact: true }).fill("290 degC");
    await page.keyboard.press("Enter");
    await settled(page);
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    await page.waitForTimeout(400);
    await server.close();

    await page.reload();
    await settled(page);
    expect(await litShare(page)).toBeGreaterThan(0.005);
    expect(await page.getByRole("textbox", { name: "below", exact: true }).inputValue()).toMatch(
      /^290\s°C$/u,
    );
    await page.getByRole("button", { name: "Words", exact: true }).click();
    await page.getByText("crossed prisms").first().waitFor();
    await context.close();
  });
});
