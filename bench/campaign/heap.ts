/**
 * Ten minutes of dragging: does the page's memory grow? Every rule is dragged in turn; after each stretch the rubbish is collected and the heap
 * of the page's own thread measured, with the memory that its process holds (workers included).
 *
 *     npm run campaign -- heap            # 10 minutes
 *     MINUTES=1 npm run campaign -- heap  # a trial
 *
 * A round drags every rule once. Exit code 1 where the heap after the last whole round is more than 5 % above what it was at half time: by then
 * every program is compiled and every sheet has been open; what may still grow is the undo history, which is cut at 200 steps.
 */
import { startServer } from "../../src/server/index.ts";
import { start } from "../../test/browser/find-browser.ts";
import { countPictures, drag, RULES } from "../lib/dragging.ts";
import { memoryOfRenderers } from "../lib/processes.ts";

const MINUTES = Number(process.env["MINUTES"] ?? 10);
/** One stretch, s. */
const STRETCH = 12;

const server = await startServer({ port: 0 });
const { browser } = await start();
try {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  await countPictures(page);
  await page.goto(server.url);
  await page.waitForSelector("[data-settled=true]");
  const session = await page.context().newCDPSession(page);
  const rules = Object.keys(RULES);
  /** after each whole round, so that like is compared with like */
  const heaps: number[] = [];
  let pictures = 0;
  const began = performance.now();
  process.stdout.write(
    "| minute | pictures so far | heap of the page, MB | memory of its process, MB |\n|---|---|---|---|\n",
  );
  for (let i = 0; performance.now() - began < MINUTES * 60_000; i++) {
    const { widths } = await drag(page, rules[i % rules.length] ?? "below", STRETCH);
    pictures += Object.values(widths).reduce((sum, count) => sum + count, 0);
    await page.waitForSelector("[data-settled=true]");
    await session.send("HeapProfiler.collectGarbage");
    const { usedSize } = await session.send("Runtime.getHeapUsage");
    if (i % rules.length !== rules.length - 1) continue;
    heaps.push(usedSize);
    process.stdout.write(
      `| ${((performance.now() - began) / 60_000).toFixed(1)} | ${pictures} | ${(usedSize / 1e6).toFixed(2)} | ${(memoryOfRenderers() / 1e6).toFixed(0)} |\n`,
    );
  }
  const middle = heaps[heaps.length >> 1] ?? NaN;
  const last = heaps.at(-1) ?? NaN;
  process.stdout.write(
    `heap at half time ${(middle / 1e6).toFixed(2)} MB, after the last round ${(last / 1e6).toFixed(2)} MB, ${pictures} pictures\n`,
  );
  if (!(last < 1.05 * middle)) process.exitCode = 1;
} finally {
  await browser.close();
  await server.close();
}
