import { describe, expect, it } from "vitest";
import { ownCase } from "../../bench/campaign/reading/own.ts";
import { rowOf } from "../../bench/campaign/reading/rows.ts";
import { cellNodes } from "./cells.ts";

/** Largest share by which a chord across a cell lies beside 1/u between the two distances from a line at 0. */
function worstChord(nodes: Float64Array, from: number, to: number): number {
  let worst = 0;
  for (let i = 0; i + 1 < nodes.length; i++) {
    const [a, b] = [nodes[i], nodes[i + 1]];
    if (a < from || b > to) continue;
    const chord = 0.5 * (1 / a + 1 / b);
    const mean = Math.log(b / a) / (b - a);
    worst = Math.max(worst, chord / mean - 1);
  }
  return worst;
}

describe("cells along the spectrum", () => {
  it("keep the chord within 1.1e-4 of the curve from the edge of the darkness on, however narrow the gap", () => {
    for (const dark of [0.4, 1, 4, 8])
      expect(worstChord(cellNodes([0], [dark / 40], -150, 150, 2), dark, 60)).toBeLessThan(1.1e-4);
    expect(worstChord(cellNodes([0], [0.2], -150, 150, 2), 1, 60)).toBeGreaterThan(1e-3);
  });

  it("a sodium picture with gaps of a pixel: the gradient within 0.5 % (2.3 % high with cells of a fifth of a pixel)", async () => {
    const row = rowOf(await ownCase(1, 36));
    expect(row.outcome).toBe("good");
    expect(Math.abs(row.gradient)).toBeLessThan(0.005);
  }, 60_000);
});
