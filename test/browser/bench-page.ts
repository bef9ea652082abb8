/** What the browser tests need of the page: opening it, its picture as numbers, its checks for accessibility. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { BrowserContext, Page } from "playwright-core";
import { expect } from "vitest";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Opens the page and waits for its exact picture; every fault the page reports fails the test that made it. */
export async function openBench(context: BrowserContext, url: string, faults: string[]): Promise<Page> {
  const page = await context.newPage();
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") faults.push(message.text());
  });
  await page.goto(url);
  await settled(page);
  return page;
}

/** Until the picture is the exact one of the bench as it stands. */
export async function settled(page: Page): Promise<void> {
  await page.waitForSelector("[data-settled=true] .plate canvas", { timeout: 30_000 });
}

/** Until the picture differs from `before` and is exact again; gives the new one. */
export async function nextPicture(page: Page, before: string): Promise<string> {
  await expect
    .poll(
      async () => {
        await settled(page);
        return pictureOf(page);
      },
      { timeout: 30_000 },
    )
    .not.toBe(before);
  await settled(page);
  return pictureOf(page);
}

/** Pixels of the picture, read from a copy so that the page's own canvas stays as it is. */
const READ_PIXELS = `(() => {
  const canvas = document.querySelector(".plate canvas.upper");
  const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext("2d", { willReadFrequently: true });
  copy.drawImage(canvas, 0, 0);
  return copy.getImageData(0, 0, canvas.width, canvas.height);
})()`;

/** Fingerprint of the picture's pixels: one setup and seed, one picture. */
export async function pictureOf(page: Page): Promise<string> {
  return page.evaluate(`(async () => {
    const { data, width, height } = ${READ_PIXELS};
    const digest = await crypto.subtle.digest("SHA-256", data);
    return width + "x" + height + " " + [...new Uint8Array(digest)].map((byte) => byte.toString(16)).join("");
  })()`);
}

/** Share of the picture's pixels that are not dark. */
export async function litShare(page: Page): Promise<number> {
  return page.evaluate(`(() => {
    const { data } = ${READ_PIXELS};
    let lit = 0;
    for (let i = 0; i < data.length; i += 4) if (Math.max(data[i], data[i + 1], data[i + 2]) > 100) lit += 1;
    return lit / (data.length / 4);
  })()`);
}

/** What axe finds against WCAG 2.2 A and AA, one line each. */
export async function axeFindings(page: Page): Promise<readonly string[]> {
  // The page's policy forbids foreign scripts; evaluating through the debugger is not one.
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: {
        run(
          root: Document,
          options: object,
        ): Promise<{ violations: { id: string; nodes: { target: string[]; failureSummary: string }[] }[] }>;
      };
    };
    const { violations } = await axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.target.join(" ")}: ${node.failureSummary}`),
    );
  });
}
