/**
 * How lively the page is in a real browser: first picture with a cold cache, and new pictures a second while a rule is
 * dragged at 1280 × 800. Prints one line per figure; docs/bench-web.md keeps the numbers with their machine.
 */
import { readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { startServer } from "../src/server/index.ts";
import { foresee } from "../src/web/worker/foresee.ts";
import { start } from "../test/browser/find-browser.ts";
import { answerTimes, countPictures, drag, RULES } from "./lib/dragging.ts";
import { type Cpu, cpuOfRenderers } from "./lib/processes.ts";

/**
 * Runs in the page: when its first and its exact picture have been painted, with light in it, ms from the navigation's start. What a frame draws
 * has been handed to the screen when the next one begins.
 */
const WATCH = `globalThis.shown = { first: 0, exact: 0 };
const small = new OffscreenCanvas(64, 40).getContext("2d", { willReadFrequently: true });
const lit = () => {
  const canvas = document.querySelector(".plate-glass canvas.upper");
  if (canvas === null) return false;
  small.drawImage(canvas, 0, 0, 64, 40);
  return small.getImageData(0, 0, 64, 40).data.some((value, i) => i % 4 !== 3 && value > 40);
};
let painted = false;
const frame = () => {
  const now = performance.now();
  if (painted && shown.first === 0) shown.first = now;
  painted ||= lit();
  if (shown.first > 0 && document.querySelector("[data-settled=true]") !== null)
    requestAnimationFrame(() => { shown.exact = performance.now(); });
  else requestAnimationFrame(frame);
};
requestAnimationFrame(frame);`;
/** Openings with a cold cache. */
const OPENINGS = 9;

/** How long each rule is dragged before counting, so that the compilers are done, and while counting, s. */
const WARM_UP = 4;
const SECONDS = 6;
/** Steps of the hand whose answers are timed one by one. */
const STEPS = 60;

/** Settings of one field, swung about its middle, for the worker's own time. */
const SWUNG: Readonly<Record<string, (s: DemoSetup, swing: number) => void>> = {
  below: (s, swing) => (s.vessel.bottom = `${285 + 5 * swing} degC`),
  "gas pressure": (s, swing) => (s.vessel.gasPressure = `${40 + 5 * swing} Torr`),
  "plumb slit": (s, swing) => (s.path.plumbSlit = `${15 + 4 * swing} um`),
  "level slit": (s, swing) => (s.path.levelSlit = `${30 + 8 * swing} um`),
  "beam height": (s, swing) => (s.path.beamHeight = `${swing} mm`),
};
type DemoSetup = Record<"vessel" | "path", Record<string, string>>;

const least = (values: readonly number[]): string => Math.min(...values).toFixed(0);
const median = (values: readonly number[]): string =>
  ([...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN).toFixed(0);

/** Time of the worker's own program for one dragged picture at the full 1280 × 800, run here without a page around it. */
async function workerAlone(): Promise<void> {
  const demo = readFileSync(new URL("../examples/blue-twins.json", import.meta.url), "utf8");
  for (const [name, set] of Object.entries(SWUNG)) {
    const wall: number[] = [];
    const cpu: number[] = [];
    for (let i = 0; i < 100; i++) {
      const setup = JSON.parse(demo) as DemoSetup;
      set(setup, Math.sin(i / 7));
      const used = process.cpuUsage();
      const began = performance.now();
      const { picture } = await foresee(
        {
          task: "foresee",
          setup,
          show: "hot",
          precision: "coarse",
          red: false,
          colours: "camera",
          tints: false,
          minute: null,
          wanted: "picture",
        },
        { largestBin: 1 },
      );
      if (picture.columns !== 1280) throw new Error(`${picture.columns} columns instead of 1280`);
      const { user, system } = process.cpuUsage(used);
      // The first third warms the compiler up.
      if (i < 33) continue;
      wall.push(performance.now() - began);
      cpu.push((user + system) / 1e3);
    }
    process.stdout.write(
      `worker alone, ${name}, 1280 × 800: clock ${least(wall)} ms at least, ${median(wall)} ms in the middle; CPU of all its threads ${least(cpu)} ms at least, ${median(cpu)} ms in the middle\n`,
    );
  }
}

process.stdout.write(`load ${loadavg()[0]?.toFixed(1)} before\n`);
await workerAlone();
const server = await startServer({ port: 0 });
const { browser, found } = await start();
try {
  process.stdout.write(
    `${found.path}, Chromium ${browser.version()}, ${cpus().length} processors, load ${loadavg()[0]?.toFixed(1)} before\n`,
  );
  const first: number[] = [];
  const exact: number[] = [];
  for (let i = 0; i < OPENINGS; i++) {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    await page.addInitScript(WATCH);
    await page.goto(server.url);
    let shown = { first: 0, exact: 0 };
    while (shown.exact === 0) {
      await page.waitForTimeout(200);
      shown = await page.evaluate<{ first: number; exact: number }>("shown");
    }
    first.push(shown.first);
    exact.push(shown.exact);
    await context.close();
  }
  const middle = (values: number[]): string =>
    [...values].sort((a, b) => a - b)[OPENINGS >> 1]?.toFixed(0) ?? "";
  process.stdout.write(
    `first picture ${middle(first)} ms, exact ${middle(exact)} ms after opening (cold cache, median of ${OPENINGS})\n`,
  );

  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  await countPictures(page);
  await page.goto(server.url);
  await page.waitForSelector("[data-settled=true]");
  const measure = async (rule: string, shown: string): Promise<void> => {
    await drag(page, rule, WARM_UP);
    const before = cpuOfRenderers();
    const { frames, widths } = await drag(page, rule, SECONDS);
    const after = cpuOfRenderers();
    const pictures = Object.values(widths).reduce((sum, count) => sum + count, 0);
    const perPicture = (thread: keyof Cpu): string =>
      ((1000 * (after[thread] - before[thread])) / pictures).toFixed(0);
    const sizes = Object.entries(widths)
      .map(([width, count]) => `${count} of ${width} px`)
      .join(", ");
    process.stdout.write(
      `${rule}, ${shown}: ${(pictures / SECONDS).toFixed(1)} pictures/s, ${(frames / SECONDS).toFixed(1)} animation frames/s (${sizes}), CPU per picture: page ${perPicture("page")} ms, worker ${perPicture("worker")} ms, renderer altogether ${perPicture("all")} ms\n`,
    );
  };
  const choose = (name: string): Promise<void> =>
    page.getByRole("radio", { name, exact: true }).check({ force: true });
  for (const rule of Object.keys(RULES)) await measure(rule, "hot");
  for (const rule of Object.keys(RULES)) {
    const { answer, shown } = await answerTimes(page, rule, STEPS);
    process.stdout.write(
      `${rule}, from the hand's event to the picture drawn ${least(answer)} ms at least, ${median(answer)} ms in the middle; to the next frame ${least(shown)} and ${median(shown)} ms\n`,
    );
  }
  await choose("both");
  for (const rule of ["below", "plumb slit"]) await measure(rule, "hot and cold");
  await choose("hot");
  await choose("tinted by where the light went");
  for (const rule of ["below", "plumb slit"]) await measure(rule, "hot, tinted");
} finally {
  await browser.close();
  await server.close();
}
process.stdout.write(`load ${loadavg()[0]?.toFixed(1)} after\n`);
