import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { lineMiddle } from "./line-middle.ts";

/** Light missing in a saturated line with wings, 1 − exp(−d/(1 + (δ/γ)²)), per column. */
function dark(columns: number, middle: number, depth: number, gamma: number): Float64Array {
  return Float64Array.from(
    { length: columns },
    (_, c) => 1 - Math.exp(-depth / (1 + ((c - middle) / gamma) ** 2)),
  );
}

describe("middle of a dark line", () => {
  it.each([
    ["deep and wide, the stretch much longer on one side", dark(300, 60.3, 40, 4), 60.3],
    ["thin", dark(120, 80.72, 0.2, 3), 80.72],
    ["narrower than a column's neighbours", dark(90, 41.5, 1, 0.8), 41.5],
  ])("%s", (_name, missing, middle) => {
    expect(Math.abs(lineMiddle(missing, 0).middle - middle)).toBeLessThan(0.05);
  });

  it("scatters as far as it says", () => {
    const dice = xoroshiro128plus(11);
    const unit = (): number => ((dice.next() >>> 0) + 0.5) / 4294967296;
    const clean = dark(150, 47.4, 1.5, 3);
    const noise = 0.08;
    const draws = 600;
    let sum = 0;
    let square = 0;
    let claimed = 0;
    for (let k = 0; k < draws; k++) {
      const noisy = clean.map(
        (v) => v + noise * Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit()),
      );
      const { middle, standardUncertainty } = lineMiddle(noisy, noise);
      sum += middle - 47.4;
      square += (middle - 47.4) ** 2;
      claimed += standardUncertainty;
    }
    const scatter = Math.sqrt(square / draws);
    // 600 draws know a scatter to 3 %, a mean to 4 % of it.
    expect(Math.abs(scatter / (claimed / draws) - 1)).toBeLessThan(0.12);
    expect(Math.abs(sum / draws)).toBeLessThan((4 * scatter) / Math.sqrt(draws));
  });

  it("is said of noise alone without a fault", () => {
    const { middle } = lineMiddle(new Float64Array(40).fill(-0.01), 0.1);
    expect(middle).toBeGreaterThanOrEqual(0);
    expect(middle).toBeLessThanOrEqual(39);
  });
});
