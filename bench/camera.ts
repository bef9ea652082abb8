/**
 * One live frame of 640 × 480, 8 bits: processor time of the quick reading and of the meter once the program is warm,
 * median and least of several, and the errors against the truth. What a browser adds is fetching the frame (a few ms).
 *
 *   node --import tsx bench/camera.ts [FRAMES]
 */
import { readFileSync } from "node:fs";
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { meterLine, prepareGlance } from "../src/reading/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../src/setup/index.ts";

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
    glance = read(made.frame);
    meterLine(made.frame, setup.camera.gamma);
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
