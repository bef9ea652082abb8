/** A fresh page on the demonstration for every test of a file; a fault that the page reports fails the test that made it. */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect } from "vitest";
import { type Server, startServer } from "../../src/server/index.ts";
import { openBench } from "./bench-page.ts";
import { launch } from "./find-browser.ts";

// Read through the import they are always those of the test that runs.
export let browser: Browser;
export let server: Server;
export let context: BrowserContext;
export let page: Page;
export let faults: string[];

export function openForEachTest(viewport = { width: 1280, height: 800 }): void {
  beforeAll(async () => {
    [browser, server] = await Promise.all([launch(), startServer({ port: 0 })]);
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
  });
  beforeEach(async () => {
    faults = [];
    context = await browser.newContext({ viewport, reducedMotion: "reduce" });
    page = await openBench(context, server.url, faults);
  });
  afterEach(async () => {
    await context.close();
    expect(faults).toEqual([]);
  });
}
