/**
 * Makes the pictures of the documents anew, from the program as it is: npm run pictures. Look at them before keeping
 * them. The page and the view are both of the demonstration, examples/blue-twins.json.
 */
import { spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { start } from "../test/browser/find-browser.ts";
import { ensureBuilt, ensureInstalled } from "./lib/ready.mjs";
import { at } from "./lib/paths.mjs";
import { run } from "./lib/run.mjs";

await ensureInstalled();
await ensureBuilt(["node", "web"]);
const images = at("docs", "images");
mkdirSync(images, { recursive: true });
await pictureOfTheView(join(images, "demo-view.png"));
await pictureOfThePage(join(images, "bench.png"));

async function pictureOfTheView(target: string): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "crossprism-pictures-"));
  const { code } = await run(process.execPath, [
    at("bin/crossprism.js"),
    "forecast",
    at("examples/blue-twins.json"),
    "-o",
    folder,
  ]);
  if (code !== 0) throw new Error(`the forecast ended with ${code}`);
  copyFileSync(join(folder, "view.png"), target);
  rmSync(folder, { recursive: true });
}

async function pictureOfThePage(target: string): Promise<void> {
  const server = spawn(process.execPath, [at("bin/crossprism.js"), "open", "--no-browser", "--port", "0"]);
  const { browser } = await start();
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
    await page.goto(await addressOf(server.stdout));
    await page.waitForSelector("[data-settled=true] .plate canvas", { timeout: 60_000 });
    await page.screenshot({ path: target });
  } finally {
    await browser.close();
    server.kill("SIGTERM");
  }
}

/** The address that the server prints once it is ready. */
async function addressOf(output: AsyncIterable<unknown>): Promise<string> {
  let text = "";
  for await (const chunk of output) {
    text += String(chunk);
    const address = /https?:\/\/\S+/.exec(text)?.[0];
    if (address !== undefined) return address;
  }
  throw new Error("the server ended without an address");
}
