/**
 * How lively the page is in a real browser: first picture with a cold cache, and new pictures a second while a rule is
 * dragged at 1280 × 800. Prints one line per figure; docs/bench-web.md keeps the numbers with their machine.
 */
import { readdirSync, readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import type { Page } from "playwright-core";
import { startServer } from "../src/server/index.ts";
import { foresee } from "../src/web/worker/foresee.ts";
import { start } from "../test/browser/find-browser.ts";

const RULES = [
  "below, drag",
  "gas pressure, drag",
  "plumb slit, drag",
  "level slit, drag",
  "beam height, drag",
] as const;
const ELEMENT: Readonly<Record<(typeof RULES)[number], string>> = {
  "below, drag": "vapour tube",
  "gas pressure, drag": "vapour tube",
  "plumb slit, drag": "plumb slit",
  "level slit, drag": "level slit",
  "beam height, drag": "collimator",
};
/** How long each rule is dragged, s. */
const SECONDS = 5;

interface Dragged {
  readonly pictures: number;
  readonly frames: number;
  /** pictures by their width in pixels */
  readonly widths: Readonly<Record<string, number>>;
  readonly heap: number;
}

/** Moves a rule back and forth with the animation clock and counts the pictures that are put on the plate. */
async function drag(page: Page, name: string, seconds: number): Promise<Dragged> {
  return page.evaluate(
    async ({ label, duration }) => {
      const rule = document.querySelector<HTMLInputElement>(`input[aria-label="${label}"]`);
      if (rule === null) throw new Error(`no rule "${label}"`);
      const { prototype } = CanvasRenderingContext2D;
      // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own context below, and put back
      const before = prototype.putImageData;
      let pictures = 0;
      let frames = 0;
      const widths: Record<string, number> = {};
      prototype.putImageData = function (
        this: CanvasRenderingContext2D,
        image: ImageData,
        x: number,
        y: number,
      ) {
        if (this.canvas.closest(".plate-glass") !== null) {
          pictures += 1;
          widths[image.width] = (widths[image.width] ?? 0) + 1;
        }
        before.call(this, image, x, y, 0, 0, image.width, image.height);
      };
      const began = performance.now();
      while (performance.now() - began < duration * 1000) {
        rule.value = String(500 + 300 * Math.sin(frames / 15));
        rule.dispatchEvent(new Event("input", { bubbles: true }));
        await new Promise(requestAnimationFrame);
        frames += 1;
      }
      rule.dispatchEvent(new Event("change", { bubbles: true }));
      prototype.putImageData = before;
      const { memory } = performance as unknown as { memory?: { usedJSHeapSize: number } };
      return { pictures, frames, widths, heap: memory?.usedJSHeapSize ?? 0 };
    },
    { label: name, duration: seconds },
  );
}

interface Cpu {
  readonly page: number;
  readonly worker: number;
}

/** Clock ticks of /proc, per second: 100 on every Linux that runs Node.js. */
const TICKS = 100;

/**
 * CPU seconds that the renderers' main threads and workers have used so far: unlike the time on the wall, it does not
 * grow while other programs hold the processor. Linux only; zeros elsewhere.
 */
function cpuOfRenderers(): Cpu {
  const used = { page: 0, worker: 0 };
  if (process.platform !== "linux") return used;
  for (const pid of readdirSync("/proc").filter((name) => /^\d+$/.test(name))) {
    try {
      if (!readFileSync(`/proc/${pid}/cmdline`, "utf8").includes("--type=renderer")) continue;
      for (const tid of readdirSync(`/proc/${pid}/task`)) {
        const stat = readFileSync(`/proc/${pid}/task/${tid}/stat`, "utf8");
        const name = stat.slice(stat.indexOf("(") + 1, stat.lastIndexOf(")"));
        const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
        const seconds = (Number(fields[11]) + Number(fields[12])) / TICKS;
        if (tid === pid) used.page += seconds;
        else if (name.startsWith("DedicatedWorker")) used.worker += seconds;
      }
    } catch {
      // The process ended while it was being looked at.
    }
  }
  return used;
}

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
  for (let i = 0; i < 3; i++) {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    const began = performance.now();
    await page.goto(server.url);
    await page.waitForSelector(".plate-glass canvas");
    first.push(performance.now() - began);
    await page.waitForSelector("[data-settled=true]");
    exact.push(performance.now() - began);
    await context.close();
  }
  const middle = (values: number[]): string => [...values].sort((a, b) => a - b)[1]?.toFixed(0) ?? "";
  process.stdout.write(
    `first picture ${middle(first)} ms, exact ${middle(exact)} ms after opening (cold cache, median of 3)\n`,
  );

  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  await page.goto(server.url);
  await page.waitForSelector("[data-settled=true]");
  for (const name of RULES) {
    await page.getByRole("radio", { name: ELEMENT[name], exact: true }).check();
    const before = cpuOfRenderers();
    const { pictures, frames, widths, heap } = await drag(page, name, SECONDS);
    const after = cpuOfRenderers();
    const perPicture = (thread: keyof Cpu): string =>
      ((1000 * (after[thread] - before[thread])) / pictures).toFixed(0);
    const sizes = Object.entries(widths)
      .map(([width, count]) => `${count} of ${width} px`)
      .join(", ");
    process.stdout.write(
      `${name.replace(", drag", "")}: ${(pictures / SECONDS).toFixed(1)} pictures/s, ${(frames / SECONDS).toFixed(1)} animation frames/s (${sizes}), CPU per picture: page ${perPicture("page")} ms, worker ${perPicture("worker")} ms; heap ${(heap / 1e6).toFixed(0)} MB\n`,
    );
  }
} finally {
  await browser.close();
  await server.close();
}
process.stdout.write(`load ${loadavg()[0]?.toFixed(1)} after\n`);
