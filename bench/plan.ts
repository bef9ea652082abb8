/**
 * Planning measured: forecasts a second without pictures, ten thousand draws of a tolerance on one and on two cores, and
 * the search against a dense search on three problems of the bench.
 *
 *   node --import tsx bench/plan.ts [DRAWS]        default 10000
 *
 * On a shared machine the clock is worth little; processor time stands beside it.
 */
import { readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { runUnits } from "../src/cli/units.ts";
import {
  choose,
  type ChooseWish,
  type Outcome,
  type OutcomeName,
  quickForecast,
  toleranceAnswer,
  toleranceJob,
} from "../src/plan/index.ts";
import { withNumbers } from "../src/plan/numbers.ts";
import { parseJsonObject, parseSetup, type Setup } from "../src/setup/index.ts";

const draws = Number(process.argv[2] ?? 10000);

function setupOf(name: string): Setup {
  return parseSetup(
    parseJsonObject(readFileSync(new URL(`../examples/${name}.json`, import.meta.url), "utf8"), name),
  );
}

const load = (): string =>
  loadavg()
    .map((l) => l.toFixed(1))
    .join(" ");

console.log(
  `${cpus().length} cores, ${cpus()[0]?.model ?? "unknown"}, Node ${process.version}, load ${load()}`,
);

for (const name of ["strontium", "sodium", "blue-twins"]) {
  const setup = setupOf(name);
  const quick = quickForecast();
  const run = (i: number): Outcome =>
    quick(withNumbers(setup, new Map([["vessel.bottom", setup.vessel.wall.bottom + 1e-3 * i]])));
  for (let i = 0; i < 20; i++) run(i);
  const times = Array.from({ length: 100 }, (_, i) => {
    const start = performance.now();
    run(20 + i);
    return performance.now() - start;
  }).sort((a, b) => a - b);
  console.log(
    `${name}: one forecast without picture ${times[0].toFixed(2)} ms at best, ${times[50].toFixed(2)} ms in the middle`,
  );
}

const job = toleranceJob(setupOf("strontium"), {
  inputs: [],
  correlations: ["vessel.bottom,vessel.top=0.5"],
  seed: 1,
  draws,
});
const seconds: number[] = [];
const processor: number[] = [];
let first = "";
for (const workers of [1, 2]) {
  const start = performance.now();
  const before = process.cpuUsage();
  const rows = await runUnits(job, { workers });
  const used = process.cpuUsage(before);
  seconds.push((performance.now() - start) / 1000);
  processor.push((used.user + used.system) / 1e6);
  const answer = JSON.stringify(toleranceAnswer(job, rows));
  if (workers === 1) first = answer;
  console.log(
    `tolerance, ${draws} draws, ${workers} worker${workers > 1 ? "s" : ""}: ${seconds.at(-1)?.toFixed(1)} s by the clock, ${processor.at(-1)?.toFixed(1)} s of processor${workers > 1 ? `, the same answer: ${String(answer === first)}` : ""}, load ${load()}`,
  );
}
console.log(
  `two workers over one: ${(seconds[0] / seconds[1]).toFixed(2)} times by the clock; ${((2 * processor[0]) / processor[1]).toFixed(2)} times if each worker had had a core of its own (by processor time)`,
);

interface Problem {
  readonly name: string;
  readonly setup: Setup;
  readonly wish: Pick<ChooseWish, "wishes" | "atLeast" | "atMost">;
  /** outcome that is to be most, or least */
  readonly outcome: OutcomeName;
  readonly sense: 1 | -1;
  readonly kept: (outcome: Outcome) => boolean;
  /** path, text of the range, SI ends, steps of the dense search */
  readonly free: readonly (readonly [path: string, text: string, from: number, to: number, steps: number])[];
}

const kelvin = (celsius: number): number => celsius + 273.15;
const upright = (o: Outcome): boolean => o.supersaturation <= 5 && o.rayleigh <= 1708;

const PROBLEMS: readonly Problem[] = [
  {
    name: "strontium: tallest curve, half-gap at most 2 blurs, over metal and top",
    setup: setupOf("strontium"),
    wish: { wishes: ["tallest"], atLeast: [], atMost: ["gapTimes=2"] },
    outcome: "height",
    sense: 1,
    kept: (o) => (o.gapTimes ?? 9) <= 2 && upright(o),
    free: [
      ["vessel.bottom", "500..700 degC", kelvin(500), kelvin(700), 31],
      ["vessel.top", "300..600 degC", kelvin(300), kelvin(600), 31],
    ],
  },
  {
    name: "sodium: coolest metal, height at least 0.2 mm, pair at least 4 blurs, over metal, plumb slit and beam width",
    setup: setupOf("sodium"),
    wish: { wishes: ["gentlest"], atLeast: ["height=0.2 mm", "pairTimes=4"], atMost: [] },
    outcome: "bottom",
    sense: -1,
    kept: (o) => (o.height ?? 0) >= 0.2e-3 && (o.pairTimes ?? 0) >= 4 && upright(o),
    free: [
      ["vessel.bottom", "220..320 degC", kelvin(220), kelvin(320), 41],
      ["path.plumbSlit", "5..40 um", 5e-6, 40e-6, 9],
      ["path.beamWidth", "4..20 mm", 4e-3, 20e-3, 9],
    ],
  },
  {
    name: "blue twins: tallest curve, half-gap at most 0.2 nm, over metal, top and gas pressure",
    setup: setupOf("blue-twins"),
    wish: { wishes: ["tallest"], atLeast: [], atMost: ["halfGap=0.2 nm"] },
    outcome: "height",
    sense: 1,
    kept: (o) => (o.halfGap ?? 1) <= 0.2e-9 && upright(o),
    free: [
      ["vessel.bottom", "250..320 degC", kelvin(250), kelvin(320), 15],
      ["vessel.top", "120..240 degC", kelvin(120), kelvin(240), 13],
      ["vessel.gasPressure", "20..80 mbar", 2000, 8000, 7],
    ],
  },
];

/** Best kept outcome on a grid over these ends, and where it stands. */
function dense(
  problem: Problem,
  ends: readonly (readonly [from: number, to: number])[],
): { best: number; at: number[]; count: number } {
  const quick = quickForecast();
  const count = problem.free.reduce((product, each) => product * each[4], 1);
  let best = -Infinity;
  let at: number[] = [];
  for (let i = 0; i < count; i++) {
    // The last parameter runs fastest, so that the vapour is solved once for many slits.
    const point: number[] = [];
    let rest = i;
    for (let d = problem.free.length - 1; d >= 0; d--) {
      const steps = problem.free[d][4];
      const [from, to] = ends[d];
      point[d] = from + ((to - from) * (rest % steps)) / (steps - 1);
      rest = Math.floor(rest / steps);
    }
    const outcome = quick(
      withNumbers(problem.setup, new Map(problem.free.map(([path], d) => [path, point[d]]))),
    );
    const value = problem.kept(outcome) ? problem.sense * (outcome[problem.outcome] ?? -Infinity) : -Infinity;
    if (value > best) [best, at] = [value, point];
  }
  return { best, at, count };
}

for (const problem of PROBLEMS) {
  // A grid misses an optimum that lies on a limit by up to a step: once more, as dense, within a step of the best point.
  const whole = problem.free.map(([, , from, to]) => [from, to] as const);
  const coarse = dense(problem, whole);
  const near = problem.free.map(([, , from, to, steps], d) => {
    const step = (to - from) / (steps - 1);
    return [Math.max(from, coarse.at[d] - step), Math.min(to, coarse.at[d] + step)] as const;
  });
  const fine = dense(problem, near);
  const best = Math.max(coarse.best, fine.best);
  const budget = Math.floor(0.05 * coarse.count);
  const chosen = choose(problem.setup, {
    ...problem.wish,
    free: problem.free.map(([path, text]) => `${path}=${text}`),
    forecasts: budget,
    list: 1,
  });
  const found = problem.sense * (chosen.choices[0]?.outcome[problem.outcome] ?? -Infinity);
  const behind = (100 * (best - found)) / Math.abs(best);
  console.log(
    `${problem.name}\n  dense search: ${coarse.count} and then ${fine.count} forecasts, ${(problem.sense * best).toPrecision(5)}; choose: ${chosen.forecasts} of at most ${budget}, ${(problem.sense * found).toPrecision(5)}, ${behind.toFixed(2)} % behind`,
  );
}
