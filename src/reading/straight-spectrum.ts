/** A plain spectrum lies straight; a crossed-prism picture bends beside its lines, and summing its rows would give nonsense. */
import { Refusal } from "../quantity/refusal.ts";
import { backgroundOf } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";

/** Columns taken together. */
const BLOCK = 4;
/** Light of a block, as a share of the brightest, from which on its height counts. */
const LIT = 0.1;
/** Share of the lit blocks that may stand off the others. */
const ODD = 0.06;

/**
 * Refuses a picture whose light stands higher or lower in some columns than in most by more than half the height of the band (and by
 * two rows at least): heights are centres of the light above the background, less a straight line through their middle values.
 * @param within first and last row of the region that counts
 * @throws Refusal "bent-picture"
 */
export function refuseBent(frame: LightFrame, within?: readonly [number, number]): void {
  const { columns, rows, light } = frame;
  const [top, bottom] = within ?? [0, rows - 1];
  const { level, noise } = backgroundOf(frame);
  const blocks = Math.floor(columns / BLOCK);
  const sum = new Float64Array(blocks);
  const centre = new Float64Array(blocks);
  const spread = new Float64Array(blocks);
  for (let b = 0; b < blocks; b++) {
    let first = 0;
    let second = 0;
    for (let r = top; r <= bottom; r++) {
      let here = 0;
      for (let c = 0; c < BLOCK; c++) here += light[r * columns + b * BLOCK + c] / BLOCK - level / BLOCK;
      if (here < 4 * noise) continue;
      sum[b] += here;
      first += here * r;
      second += here * r * r;
    }
    if (sum[b] <= 0) continue;
    centre[b] = first / sum[b];
    spread[b] = Math.sqrt(Math.max(second / sum[b] - centre[b] ** 2, 0));
  }
  const brightest = sum.reduce((a, b) => Math.max(a, b), 0);
  const lit = Array.from(sum, (_, b) => b).filter((b) => sum[b] > LIT * brightest);
  if (lit.length < 8) return;
  const half = lit.length >> 1;
  const middle = (list: readonly number[], of: Float64Array): number =>
    list.map((b) => of[b]).sort((a, b) => a - b)[list.length >> 1];
  const [left, right] = [lit.slice(0, half), lit.slice(half)];
  const slope =
    (middle(right, centre) - middle(left, centre)) / (right[right.length >> 1] - left[left.length >> 1]);
  const height = Math.sqrt(12) * middle(lit, spread);
  const level0 = lit.map((b) => centre[b] - slope * b).sort((a, b) => a - b)[half];
  const off = lit.filter((b) => Math.abs(centre[b] - slope * b - level0) > Math.max(height / 2, 2));
  if (off.length <= ODD * lit.length) return;
  throw new Refusal({
    code: "bent-picture",
    field: "picture",
    received: `light that leaves the band in ${Math.round((100 * off.length) / lit.length)} % of the columns, as a crossed-prism picture's does beside its lines`,
    expected: "a straight spectrum, whose dark lines alone are measured",
    hint: "pictures with bent light are for the command read",
  });
}
