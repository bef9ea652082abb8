/**
 * The Faddeeva function and the index of potassium vapour against scipy's vectorised wofz doing the same in the same run,
 * one core each, one after the other: least time of many repeats, of the processor where a task takes milliseconds. Then: nanoseconds per component, operations
 * counted, growth with wavelengths and components. docs/bench-medium.md keeps the numbers with their machine.
 * `python3` with numpy and scipy is needed for the comparison only.
 *
 *   node --import tsx bench/medium.ts
 */
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { vapourComponents, vapourResponse } from "../src/medium/index.ts";
import { indexInPlace } from "../src/medium/response.ts";
import { angularFrequencies, packComponents } from "../src/medium/susceptibility.ts";
import { faddeevaArray } from "../src/numerics/faddeeva.ts";
import { createFastKernel } from "../src/numerics/fast-kernel.ts";
import { addLines } from "../src/numerics/line-sum.ts";
import { SPEED_OF_LIGHT } from "../src/reference/index.ts";
import { growthPlot } from "./lib/growth-plot.ts";

const POINTS = 20_000;
const WAVELENGTHS = 200_000;
const FROM = 761e-9;
const TO = 776e-9;
const PICK = 997;

/** Boxes of arguments in the core: |x| below `x`, y from 0 to `y` or over the decades of `decades`. */
const BOXES: readonly { name: string; x: number; y?: number; decades?: readonly [number, number] }[] = [
  { name: "|x| < 6, 0 < y < 6", x: 6, y: 6 },
  { name: "|x| < 4, 0 < y < 4", x: 4, y: 4 },
  { name: "|x| < 4, 1e-4 < y < 1 by decades", x: 4, decades: [-4, 0] },
];

function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Least processor time of a task of some milliseconds, s: what other work on the machine takes does not count. */
function leastOfProcessor(task: () => void, repeats: number): number {
  let best = Infinity;
  for (let k = 0; k < repeats; k++) {
    const before = process.cpuUsage();
    task();
    const { user, system } = process.cpuUsage(before);
    best = Math.min(best, user + system);
  }
  return best / 1e6;
}

/** Least time on the clock of a task of about a millisecond, s. */
function least(task: () => void, repeats: number): number {
  let best = Infinity;
  for (let k = 0; k < repeats; k++) {
    const start = performance.now();
    task();
    best = Math.min(best, performance.now() - start);
  }
  return best / 1000;
}

const next = random(20261125);
const boxes = BOXES.map(({ x, y, decades }) => {
  const xs = Float64Array.from({ length: POINTS }, () => (2 * next() - 1) * x);
  const ys = Float64Array.from({ length: POINTS }, () =>
    decades === undefined ? next() * y! : 10 ** (decades[0] + next() * (decades[1] - decades[0])),
  );
  return { xs, ys };
});

const state = { element: "K", density: 5e20, temperature: 450 };
/** The eight strongest components of potassium in nature's mixture. */
const components = [...vapourComponents(state)]
  .sort((a, b) => b.weight * b.oscillatorStrength - a.weight * a.oscillatorStrength)
  .slice(0, 8);
const packed = packComponents(components, state.density);
const wavelengths = Float64Array.from(
  { length: WAVELENGTHS },
  (_, k) => FROM + ((TO - FROM) * k) / (WAVELENGTHS - 1),
);

type Sum = typeof addLines;

/** n − 1 and absorption of all wavelengths, memory given: what the script of scipy computes too. */
function index(sum: Sum, room: { omega: Float64Array; re: Float64Array; im: Float64Array }): void {
  const { omega, re, im } = room;
  for (let k = 0; k < omega.length; k++) omega[k] = (2 * Math.PI * SPEED_OF_LIGHT) / wavelengths[k];
  re.fill(0);
  im.fill(0);
  sum(packed, omega, re, im);
  indexInPlace(omega, re, im);
}

interface Reference {
  readonly scipy: string;
  readonly numpy: string;
  readonly boxes: readonly number[];
  readonly index: number;
  readonly refractivity: readonly number[];
  readonly absorption: readonly number[];
}

function reference(): Reference | undefined {
  const header = {
    points: POINTS,
    boxes: BOXES.map(({ name }) => name),
    repeats: 300,
    indexRepeats: 12,
    c: SPEED_OF_LIGHT,
    from: FROM,
    to: TO,
    wavelengths: WAVELENGTHS,
    packed: [...packed],
    pick: PICK,
  };
  const bytes = (values: Float64Array) => Buffer.from(values.buffer);
  const input = Buffer.concat([
    Buffer.from(`${JSON.stringify(header)}\n`),
    ...boxes.flatMap(({ xs, ys }) => [bytes(xs), bytes(ys)]),
  ]);
  const script = fileURLToPath(new URL("medium_reference.py", import.meta.url));
  const run = spawnSync("python3", [script], {
    input,
    maxBuffer: 1e8,
    env: { ...process.env, OMP_NUM_THREADS: "1" },
  });
  if (run.status === 0) return JSON.parse(run.stdout.toString()) as Reference;
  console.log(
    `python3 with numpy and scipy did not run, no comparison: ${run.stderr?.toString().trim().split("\n").at(-1) ?? String(run.error)}`,
  );
  return undefined;
}

/** Nanoseconds of one dependent multiplication, three cycles on the processors of the last ten years. */
function multiplyLatency(): number {
  let x = 1;
  const seconds = least(() => {
    let product = 1;
    for (let k = 0; k < 200_000; k++) product *= 1.0000001;
    x = product;
  }, 200);
  if (x === 0) throw new Error("the product was 1.02");
  return (seconds * 1e9) / 200_000;
}

const number = (value: number, digits = 1) => value.toFixed(digits).padStart(8);

const machine = cpus()[0]?.model ?? "unknown processor";
console.log(`${machine}, node ${process.version}, load ${loadavg()[0].toFixed(1)}`);
const fast = createFastKernel();
if (fast === undefined) console.log("no WebAssembly vectors on this machine: that column is left out");
const scipy = reference();
if (scipy !== undefined) console.log(`scipy ${scipy.scipy}, numpy ${scipy.numpy}`);

console.log("\nw(z), random arguments in the core, ns per point");
console.log("box".padEnd(36), "   scipy  TypeScript ratio  WebAssembly ratio");
boxes.forEach(({ xs, ys }, k) => {
  const out = new Float64Array(2 * POINTS);
  const plain =
    (least(() => {
      faddeevaArray(xs, ys, out);
    }, 1500) /
      POINTS) *
    1e9;
  const quick =
    fast === undefined
      ? NaN
      : (least(() => {
          fast.faddeevaArray(xs, ys, out);
        }, 1500) /
          POINTS) *
        1e9;
  const theirs = (scipy?.boxes[k] ?? NaN) * 1e9;
  console.log(
    BOXES[k].name.padEnd(36),
    number(theirs),
    number(plain),
    number(theirs / plain),
    number(quick),
    number(theirs / quick),
  );
});

console.log(
  `\nn - 1 and absorption, potassium, ${WAVELENGTHS} wavelengths ${FROM * 1e9} to ${TO * 1e9} nm, ${components.length} components`,
);
const room = {
  omega: new Float64Array(WAVELENGTHS),
  re: new Float64Array(WAVELENGTHS),
  im: new Float64Array(WAVELENGTHS),
};
const variants: [string, Sum][] = [["TypeScript", addLines]];
if (fast !== undefined)
  variants.push([
    "WebAssembly",
    (...given) => {
      fast.addLines(...given);
    },
  ]);
if (scipy !== undefined) console.log("scipy".padEnd(14), `${number(scipy.index * 1e3)} ms`);
for (const [name, sum] of variants) {
  const seconds = leastOfProcessor(() => {
    index(sum, room);
  }, 60);
  const only = leastOfProcessor(() => {
    sum(packed, room.omega, room.re, room.im);
  }, 60);
  const ratio = scipy === undefined ? "" : `, ${(scipy.index / seconds).toFixed(1)} times scipy's speed`;
  console.log(
    name.padEnd(14),
    `${number(seconds * 1e3)} ms${ratio}; ${((only * 1e9) / WAVELENGTHS / components.length).toFixed(2)} ns per component and wavelength`,
  );
  if (scipy === undefined) continue;
  index(sum, room);
  let worst = 0;
  scipy.refractivity.forEach((value, k) => {
    const alpha = (scipy.absorption[k] * SPEED_OF_LIGHT) / room.omega[k * PICK] / 2;
    const size = Math.hypot(value, alpha);
    worst = Math.max(worst, Math.abs(room.re[k * PICK] - value) / size);
    worst = Math.max(
      worst,
      (Math.abs(room.im[k * PICK] - scipy.absorption[k]) / (size * 2 * room.omega[k * PICK])) *
        SPEED_OF_LIGHT,
    );
  });
  console.log("".padEnd(14), `largest difference from scipy: ${worst.toExponential(1)} of |n - 1|`);
}
const full = leastOfProcessor(() => {
  vapourResponse(state, wavelengths);
}, 10);
console.log(
  `vapourResponse with group index, all ${vapourComponents(state).length} components: ${(full * 1e3).toFixed(0)} ms`,
);

const latency = multiplyLatency();
console.log(
  `\none dependent multiplication takes ${latency.toFixed(2)} ns: ${(3 / latency).toFixed(2)} GHz at three cycles`,
);

console.log("\ngrowth, TypeScript sum over lines, ms");
console.log("wavelengths \\ components".padEnd(26), [4, 8, 16, 32].map((n) => number(n, 0)).join(""));
const omegas = angularFrequencies(wavelengths);
const growth = [4, 8, 16, 32].map((n) => ({ name: `${n} components`, points: [] as [number, number][] }));
for (const count of [25_000, 50_000, 100_000, 200_000]) {
  // every so-many-th wavelength, so that the share of near points stays the same
  const some = omegas.filter((_, k) => k % (WAVELENGTHS / count) === 0);
  const times = [4, 8, 16, 32].map((n) => {
    const list = new Float64Array(5 * n);
    for (let k = 0; k < n; k++) list.set(packed.subarray(5 * (k % 8), 5 * (k % 8) + 5), 5 * k);
    return (
      leastOfProcessor(() => {
        addLines(list, some, room.re, room.im);
      }, 12) * 1e3
    );
  });
  console.log(String(count).padEnd(26), times.map((time) => number(time, 2)).join(""));
  for (const [i, time] of times.entries()) growth[i].points.push([count, time]);
}
writeFileSync(
  new URL("../docs/images/bench-medium-growth.svg", import.meta.url),
  growthPlot("Sum over lines: cost as the work grows", "wavelengths", "ms of processor", growth),
);
