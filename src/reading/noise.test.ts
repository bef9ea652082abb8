/** What a band's residuals tell of its noise: drawn with known noise, alone and shared by neighbours in known ways. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import type { BandPixels } from "./band-pixels.ts";
import { noiseFromResiduals } from "./noise.ts";

const COLUMNS = 220;
const ROWS = 25;
const BACKGROUND = 0.01;
const FLOOR = 4e-8;
const PER_LIGHT = 6.6e-5;

const dice = xoroshiro128plus(11);
const unit = (): number => ((dice.next() >>> 0) + 0.5) / 4294967296;
const normal = (): number => Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit());

/** A bright line a few pixels high whose light changes along it. */
const model = new Float64Array(COLUMNS * ROWS);
for (let c = 0; c < COLUMNS; c++)
  for (let r = 0; r < ROWS; r++) {
    const height = (r - 12 - 0.01 * c) / 2.2;
    model[c * ROWS + r] = BACKGROUND + (0.3 + (0.5 * c) / COLUMNS) * Math.exp(-0.5 * height ** 4);
  }

type Kernel = readonly (readonly [columns: number, rows: number, weight: number])[];

/** Noise of the model's own size whose unit deviates are sums of independent ones by a kernel. */
function drawn(kernel: Kernel): BandPixels {
  const margin = 4;
  const high = ROWS + 2 * margin;
  const own = Float64Array.from({ length: (COLUMNS + 2 * margin) * high }, normal);
  const size = Math.sqrt(kernel.reduce((sum, [, , w]) => sum + w * w, 0));
  const count = COLUMNS * ROWS;
  const light = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [c, r] = [Math.floor(i / ROWS), i % ROWS];
    let z = 0;
    for (const [dc, dr, w] of kernel) z += (w / size) * own[(c + margin + dc) * high + r + margin + dr];
    light[i] = model[i] + z * Math.sqrt(FLOOR + PER_LIGHT * (model[i] - BACKGROUND));
  }
  return {
    count,
    light,
    along: new Float64Array(0),
    height: new Float64Array(0),
    column: Int32Array.from({ length: count }, (_, i) => Math.floor(i / ROWS)),
    row: Int32Array.from({ length: count }, (_, i) => i % ROWS),
  };
}

const found = (kernel: Kernel) => noiseFromResiduals(drawn(kernel), model, BACKGROUND, Math.sqrt(FLOOR));
const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
const several = (repeats: number, kernel: Kernel) => Array.from({ length: repeats }, () => found(kernel));
const ALONE: Kernel = [[0, 0, 1]];

describe("noise that nobody shares", () => {
  const draws = several(100, ALONE);

  it("grows with the light as it was drawn: within 2 % in the mean of 100", () => {
    // One draw is known to 6 %. Weights from each variance itself would give 4 % less.
    expect(Math.abs(mean(draws.map((d) => d.perLight)) / PER_LIGHT - 1)).toBeLessThan(0.02);
    expect(Math.abs(mean(draws.map((d) => d.floor)) / FLOOR - 1)).toBeLessThan(0.05);
  });

  it("widens nothing: a factor of 1 to 1.03 in the mean", () => {
    const factors = draws.map((d) => d.correlation);
    expect(Math.min(...factors)).toBe(1);
    // Chance is 0.16; cut off at 1 and otherwise taken whole it would leave 0.4 of it, 0.065.
    expect(mean(factors)).toBeLessThan(1.03);
  });
});

describe("noise that neighbours share", () => {
  // Mean of three: ρ(1) = 2/3, ρ(2) = 1/3; 1 + 2 (7/8 · 2/3 + 6/8 · 1/3) = 8/3.
  const along: Kernel = [-1, 0, 1].map((d) => [d, 0, 1] as const);
  const down: Kernel = [-1, 0, 1].map((d) => [0, d, 1] as const);

  it("along a row: the factor of a mean of three, within 5 %", () => {
    expect(Math.abs((mean(several(30, along).map((d) => d.correlation)) * 3) / 8 - 1)).toBeLessThan(0.05);
  });

  it("down a column, on a line a few pixels high: the same", () => {
    expect(Math.abs((mean(several(30, down).map((d) => d.correlation)) * 3) / 8 - 1)).toBeLessThan(0.05);
  });

  it("a little in many pixels: half of a weak sharing is seen in so small a band", () => {
    // ρ(1) = 0.2/1.04 along a row: 1 + 2 · 7/8 · 0.192 = 1.34.
    const weak = mean(
      several(40, [
        [0, 0, 1],
        [1, 0, 0.2],
      ]).map((d) => d.correlation),
    );
    expect(weak).toBeGreaterThan(1.17);
    expect(weak).toBeLessThan(1.4);
  });

  it("divided among neighbours, as by sharpening, counts as none", () => {
    const sharpened: Kernel = [
      [0, 0, 1],
      [1, 0, -0.25],
      [-1, 0, -0.25],
    ];
    for (const { correlation } of several(10, sharpened)) expect(correlation).toBe(1);
  });
});
