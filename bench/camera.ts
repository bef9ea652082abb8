/**
 * Live frames of 640 × 480, 8 bits. First the quick reading and the meter alone, once the program is warm: processor time,
 * median and least of several, and the errors against the truth. Then the whole of it in a real browser whose fake camera
 * plays a film of our own forecast: readings a second, how old each is, and the processor time that each costs the worker
 * (fetching the frame, reading, metering) and the page (drawing).
 *
 *   npm run bench -- camera
 *   node --import tsx bench/camera.ts [FRAMES [SECONDS]]
 */
import { readFileSync } from "node:fs";
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { lookAt, meterLine, prepareGlance } from "../src/reading/index.ts";
import { startServer } from "../src/server/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../src/setup/index.ts";
import { openBench } from "../test/browser/bench-page.ts";
import { openCamera, openWebcamLeaf, startWebcam } from "../test/browser/webcam.ts";
import { type Cpu, cpuOfRenderers } from "./lib/processes.ts";

const text = readFileSync(fileURLToPath(new URL("../examples/blue-twins.json", import.meta.url)), "utf8");
const setup = parseSetup(
  overrideSetup(parseJsonObject(text, "blue-twins.json"), [
    "camera.pixel=4.8 um",
    "camera.columns=640",
    "camera.rows=480",
    "camera.bitDepth=8",
    "camera.gamma=2.2",
    "camera.rate=480000 /s",
    "camera.fullWell=60000",
  ]),
);
const made = forecast(setup);
const cold = forecast(setup, { cold: true }).frame;
const count = Number(process.argv[2] ?? 30);

console.log(`load ${loadavg()[0]?.toFixed(1)}`);
for (const [name, read] of [
  ["with a cold line", prepareGlance(setup, cold)],
  ["without", prepareGlance(setup)],
] as const) {
  const times: number[] = [];
  let glance = read(made.frame);
  for (let i = 0; i < count + 5; i++) {
    const began = process.cpuUsage();
    const seen = lookAt(made.frame, setup.camera.gamma);
    glance = read(made.frame, seen);
    meterLine(made.frame, setup.camera.gamma, seen);
    const { user, system } = process.cpuUsage(began);
    // The first few still warm up.
    if (i >= 5) times.push((user + system) / 1e3);
  }
  times.sort((a, b) => a - b);
  const { columnGradient, columnDensity } = made.vapour.middle;
  console.log(
    `${name}: ${times[0]?.toFixed(0)} ms least, ${times[times.length >> 1]?.toFixed(0)} ms median a frame; ` +
      `gradient ${(100 * (glance.columnGradient / columnGradient - 1)).toFixed(2)} %, density ${(100 * (glance.columnDensity / columnDensity - 1)).toFixed(2)} %`,
  );
}

/** How long the camera runs before counting, s, so that the compilers are done. */
const WARM_UP = 6;
const seconds = Number(process.argv[3] ?? 10);

console.log(`load ${loadavg()[0]?.toFixed(1)} before the browser`);
const webcam = await startWebcam();
const server = await startServer({ port: 0 });
try {
  const context = await webcam.browser.newContext({
    viewport: { width: 1280, height: 800 },
    permissions: ["camera"],
  });
  const page = await openBench(context, server.url, []);
  await openWebcamLeaf(page);
  await openCamera(page);
  const value = async (name: string): Promise<number> =>
    Number((await page.locator(`data.${name}`).getAttribute("value", { timeout: 60_000 })) ?? Number.NaN);
  /** Readings, time and processor time from now on for so long. */
  const watch = async (name: string): Promise<void> => {
    await page.waitForTimeout(1000 * WARM_UP);
    const [before, used, began] = [await value("live-readings"), cpuOfRenderers(), performance.now()];
    const lags: number[] = [];
    while (performance.now() - began < 1000 * seconds) {
      await page.waitForTimeout(500);
      lags.push(1000 * (await value("live-lag")));
    }
    const [after, then] = [await value("live-readings"), cpuOfRenderers()];
    const took = (performance.now() - began) / 1000;
    const each = (thread: keyof Cpu): string =>
      ((1000 * (then[thread] - used[thread])) / (after - before)).toFixed(0);
    lags.sort((a, b) => a - b);
    console.log(
      `in the browser, ${name}: ${((after - before) / took).toFixed(1)} readings/s, each ${lags[lags.length >> 1]?.toFixed(0)} ms after its frame ` +
        `(${lags.at(-1)?.toFixed(0)} at most); processor time of a reading: worker ${each("worker")} ms, page ${each("page")} ms, renderer altogether ${each("all")} ms`,
    );
  };
  await watch("line guessed from each frame");
  await page.getByRole("radio", { name: "16", exact: true }).check({ force: true });
  await watch("the same, 16 frames averaged");
} finally {
  await webcam.close();
  await server.close();
}
console.log(`load ${loadavg()[0]?.toFixed(1)} after`);
