/**
 * Ten minutes of dragging: does the page's memory grow? Every rule is dragged in turn; after each stretch the rubbish is collected, in the page's
 * own thread and in its worker, and what both hold is measured, with the memory of their process.
 *
 *     npm run campaign -- heap            # 10 minutes
 *     MINUTES=1 npm run campaign -- heap  # a trial
 *
 * A round drags every rule once. Exit code 1 where either holds more than 5 % more after the last whole round than at half time: by then
 * every program is compiled and every sheet has been open; what may still grow is the undo history, which is cut at 200 steps.
 */
import { startServer } from "../../src/server/index.ts";
import { start } from "../../test/browser/find-browser.ts";
import { countPictures, drag, RULES } from "../lib/dragging.ts";
import { type Holding, holdings } from "../lib/holdings.ts";
import { memoryOfRenderers } from "../lib/processes.ts";

const MINUTES = Number(process.env["MINUTES"] ?? 10);
/** One stretch, s. */
const STRETCH = 12;

const mega = (bytes: number): string => (bytes / 1e6).toFixed(2);

const server = await startServer({ port: 0 });
const { browser } = await start();
try {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  await countPictures(page);
  await page.goto(server.url);
  await page.waitForSelector("[data-settled=true]");
  const holds = await holdings(page);
  const rules = Object.keys(RULES);
  /** after each whole round, so that like is compared with like */
  const rounds: Holding[] = [];
  let pictures = 0;
  const began = performance.now();
  process.stdout.write(
    "| minute | pictures so far | held by the page, MB | held by its worker, MB | memory of their process, MB |\n|---|---|---|---|---|\n",
  );
  for (let i = 0; performance.now() - began < MINUTES * 60_000; i++) {
    const { widths } = await drag(page, rules[i % rules.length] ?? "below", STRETCH);
    pictures += Object.values(widths).reduce((sum, count) => sum + count, 0);
    await page.waitForSelector("[data-settled=true]");
    if (i % rules.length !== rules.length - 1) continue;
    const held = await holds();
    rounds.push(held);
    const cells = [
      ((performance.now() - began) / 60_000).toFixed(1),
      pictures,
      mega(held.page),
      mega(held.worker),
    ];
    process.stdout.write(`| ${[...cells, (memoryOfRenderers() / 1e6).toFixed(0)].join(" | ")} |\n`);
  }
  // What the process keeps only because nobody else wants it, it gives back when memory is said to be short.
  const session = await page.context().newCDPSession(page);
  await session.send("Memory.simulatePressureNotification", { level: "critical" });
  await holds();
  await page.waitForTimeout(3000);
  process.stdout.write(`process told that memory is short: ${(memoryOfRenderers() / 1e6).toFixed(0)} MB\n`);
  for (const who of ["page", "worker"] as const) {
    const middle = rounds[rounds.length >> 1]?.[who] ?? NaN;
    const last = rounds.at(-1)?.[who] ?? NaN;
    process.stdout.write(`${who}: ${mega(middle)} MB at half time, ${mega(last)} MB after the last round\n`);
    if (!(last < 1.05 * middle)) process.exitCode = 1;
  }
} finally {
  await browser.close();
  await server.close();
}
