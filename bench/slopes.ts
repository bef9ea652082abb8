/**
 * One linearisation of the pixel fit (model, slopes, columns, their products, covariance) on a picture of our own forecast,
 * 1400 × 900: the loops in TypeScript and those on WebAssembly vectors in turn, least of several, processor time.
 *
 *   node --import tsx bench/slopes.ts [REPEATS]
 */
import { readFileSync } from "node:fs";
import { loadavg } from "node:os";
import { expose } from "../src/picture/index.ts";
import { fitPicture } from "../src/reading/fit-picture.ts";
import { fitPixels, fitScratch } from "../src/reading/pixel-fit.ts";
import { fastLoops } from "../src/reading/slope-kernel.ts";
import { plainLoops } from "../src/reading/slope-loops.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../src/setup/index.ts";

const repeats = Number(process.argv[2] ?? 7);
const example = new URL("../examples/practice/k-clean.json", import.meta.url);
const setup = parseSetup(parseJsonObject(readFileSync(example, "utf8"), "k-clean"));
const { camera } = setup;
const curve = curveStage(setup, vapourStage(setup));
const { hot, setting, fixed, slitWidth, undeflected, stored, terms, fit, pixels } = fitPicture({
  hot: expose(pictureStage(setup, curve).light.slice(), camera, 1),
  cold: expose(pictureStage(setup, coldCurve(curve)).light.slice(), camera, 2),
  setup,
});
const scratch = fitScratch(hot.columns, hot.rows);
console.log(
  `load ${loadavg()[0].toFixed(1)}; ${hot.columns} × ${hot.rows}, ${pixels.length} pixels, ${terms.length} parameters`,
);
const fast = fastLoops();
const ways = [{ name: "TypeScript", loops: plainLoops }, ...(fast ? [{ name: "vectors", loops: fast }] : [])];
const least = ways.map(() => Number.POSITIVE_INFINITY);
for (let k = 0; k < repeats; k++)
  ways.forEach(({ loops }, way) => {
    const started = process.cpuUsage();
    fitPixels({
      frame: hot,
      setting,
      fixed: { ...fixed, ...fit.values },
      slitWidth,
      noise: undeflected.noise,
      stored,
      every: 1,
      scratch: { ...scratch, loops },
      pixels,
      loss: "squares",
      maxIterations: 0,
      fallTolerance: 0,
      terms,
    });
    const used = process.cpuUsage(started);
    least[way] = Math.min(least[way], (used.user + used.system) / 1e3);
  });
ways.forEach(({ name }, way) => {
  console.log(`${name}: ${least[way].toFixed(0)} ms`);
});
