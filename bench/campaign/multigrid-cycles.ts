/**
 * Does every legal wall come to 1e-8 in twelve V-cycles, within 12 doubles an unknown? Random tubes, strips and wet
 * lengths over the legal range, from discs a hundredth of a bore long to tubes of a thousand, on grids from the coarsest
 * to 98 304 cells, alike and unlike in their directions. Prints what takes more, then a table.
 *
 *   node --import tsx bench/campaign/multigrid-cycles.ts [COUNT] [FIRST SEED]
 */
import { PolarMultigrid } from "../../src/numerics/multigrid.ts";
import { assemble } from "../../src/numerics/polar-conductance.ts";
import { gridSize, tubeGrid } from "../../src/vessel/grid.ts";
import { faceMeans, measuredWall } from "../../src/vessel/wall.ts";
import { wetness } from "../../src/vessel/wetness.ts";
import { generator } from "../lib/generator.ts";
import { randomWet } from "../lib/random-vessels.ts";

const GRIDS = [
  [12, 16, 16],
  [24, 32, 32],
  [32, 48, 64],
  [8, 16, 12],
  [24, 32, 24],
  [16, 32, 64],
  [24, 64, 32],
  [12, 32, 128],
] as const;
const MOST = { cycles: 12, doubles: 12 };
/** Cells from which on doubles an unknown are counted: below, the margins weigh. */
const COUNTED = 5000;

const [count = "2000", first = "1"] = process.argv.slice(2);
const times = new Map<number, number>();
let doubles = 0;
let faulty = 0;
for (let seed = Number(first); seed < Number(first) + Number(count); seed++) {
  const random = generator(seed);
  const decades = (low: number, high: number): number => low * (high / low) ** random();
  const [radial, angular, axial] = GRIDS[Math.floor(random() * GRIDS.length)];
  const heatedLength = decades(5e-3, 5);
  const tube = {
    bore: decades(1e-3, 0.5),
    heatedLength,
    length: Math.min(8, heatedLength * decades(1, 10)),
    element: "Cs",
    gas: "Ar",
    gasPressure: 2000,
    wall: { kind: "measured" as const, bottom: 560, top: 460, ends: 320, hotStrip: 0.02 + 6.2 * random() },
  };
  const held = random() < 0.2;
  const wet = held ? undefined : randomWet(random, tube.length, random() < 0.5);
  const grid = tubeGrid(tube, gridSize({ radial, angular, axial }));
  const wall = new Float64Array(grid.angular * grid.axial);
  faceMeans(measuredWall(tube, grid), wall, (t) => Math.exp(16 - 9000 / t));
  const end = held ? new Float64Array(grid.radial * grid.angular).fill(wall[0]) : undefined;
  const solver = new PolarMultigrid(grid, [held, held]);
  const wallDepth = wet === undefined ? {} : { wallDepth: wetness(wet, grid).depth };
  assemble(solver.finest, grid, { wall, ...wallDepth, ends: [end, end] });
  solver.prepare(wet !== undefined);
  let cycles = Infinity;
  try {
    cycles = solver.solve(1e-8, 60).cycles;
  } catch (error) {
    console.log(`seed ${seed}: ${String(error)}`);
  }
  times.set(cycles, (times.get(cycles) ?? 0) + 1);
  const cells = solver.solution.length;
  const own = cells < COUNTED ? 0 : solver.memory / cells;
  doubles = Math.max(doubles, own);
  if (cycles <= MOST.cycles && own <= MOST.doubles) continue;
  faulty++;
  console.log(
    `seed ${seed}: ${cycles} cycles, ${own.toFixed(1)} doubles on ${radial} × ${angular} × ${axial}`,
    JSON.stringify({ ...tube, wet }),
  );
}
console.log(
  `${count} walls from seed ${first}, ${faulty} beyond ${MOST.cycles} V-cycles or ${MOST.doubles} doubles`,
);
for (const [cycles, n] of [...times].sort((a, b) => a[0] - b[0])) console.log(`${cycles} V-cycles: ${n}`);
console.log(`most doubles an unknown: ${doubles.toFixed(1)}`);
if (faulty > 0) process.exitCode = 1;
