/**
 * Every view of the page in every theme, on one contact sheet a theme, to be looked at before a release:
 *
 *     npm run campaign -- views            # writes docs/images/views-paper.jpg, -lab.jpg, -red.jpg
 *     FOLDER=/tmp npm run campaign -- views # the single views in full size there too
 *
 * Exit code 1 where the page reports an error or a view runs wider than the window.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { startServer } from "../../src/server/index.ts";
import { launch } from "../../test/browser/find-browser.ts";

const THEMES = ["paper", "lab", "red"];
const WIDTH = 1280;
const sheets = fileURLToPath(new URL("../../docs/images/", import.meta.url));
const singles = process.env["FOLDER"];
const faults: string[] = [];

/** The view as JPEG: the whole window for the bench itself, the open leaf alone for a leaf. */
async function shot(page: Page, theme: string, leaf: string): Promise<string> {
  const box = leaf === "" ? null : await page.locator("#leaf").boundingBox();
  const top = await page.evaluate(() => scrollY);
  const clip =
    box === null ? {} : { clip: { x: 0, y: box.y + top, width: WIDTH, height: Math.min(box.height, 1600) } };
  const bytes = await page.screenshot({ fullPage: true, ...clip });
  if (singles !== undefined) writeFileSync(join(singles, `${theme}-${leaf || "Bench"}.png`), bytes);
  const spill = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (spill > 0) faults.push(`${theme}, ${leaf || "bench"}: ${String(spill)} px wider than the window`);
  return bytes.toString("base64");
}

async function viewsOf(browser: Browser, url: string, theme: string): Promise<string[]> {
  const context = await browser.newContext({
    viewport: { width: WIDTH, height: 800 },
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  page.on("pageerror", (error) => faults.push(`${theme}: ${error.message}`));
  await page.goto(url);
  await page.waitForSelector("[data-settled=true]", { timeout: 60_000 });
  await page.getByRole("radio", { name: theme, exact: true }).check({ force: true });
  const views = [await shot(page, theme, "")];
  for (const title of await page.locator(".day-line button").allTextContents()) {
    await page.getByRole("button", { name: title, exact: true }).click();
    await page.waitForFunction(
      () => document.querySelector("#leaf .waiting, #leaf [aria-busy=true]") === null,
    );
    await page.waitForTimeout(2500); // some figures are computed by workers without saying so
    views.push(await shot(page, theme, title));
  }
  await context.close();
  return views;
}

async function contactSheet(browser: Browser, views: readonly string[], path: string): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 1800, height: 900 } });
  const pictures = views
    .map(
      (view) =>
        `<img src="data:image/png;base64,${view}" style="width:100%;margin-bottom:6px;display:block;break-inside:avoid">`,
    )
    .join("");
  await page.setContent(
    `<body style="margin:6px;background:#777;columns:3;column-gap:6px">${pictures}</body>`,
  );
  await page.screenshot({ type: "jpeg", quality: 72, path, fullPage: true });
  await page.close();
}

const server = await startServer({ port: 0 });
const browser = await launch();
try {
  for (const theme of THEMES) {
    await contactSheet(
      browser,
      await viewsOf(browser, server.url, theme),
      join(sheets, `views-${theme}.jpg`),
    );
  }
} finally {
  await browser.close();
  await server.close();
}
process.stdout.write(
  faults.length === 0 ? "No view reports an error or spills.\n" : `${faults.join("\n")}\n`,
);
process.exitCode = faults.length === 0 ? 0 : 1;
