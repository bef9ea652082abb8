/** From light gathered at places along the width to the picture: each place spread as slit, pixel and blur spread it. */
import type { Workspace } from "./workspace.ts";

/** Folds columns with the spread along the width, adding into the picture. */
export function fold(
  space: Workspace,
  taps: Float64Array,
  sub: number,
  out: Float32Array,
  columns: number,
  rows: number,
  margin: number,
  pad: number,
  stride: number,
): void {
  const { gathered, low, high, column } = space;
  const reach = taps.length - 1;
  for (let c = 0; c < columns; c++) {
    const middle = c * sub + margin;
    let from = stride;
    let to = -1;
    for (let k = middle - reach; k <= middle + reach; k++) {
      if (low[k] < from) from = low[k]!;
      if (high[k] > to) to = high[k]!;
    }
    from = Math.max(from, pad);
    to = Math.min(to, rows + pad);
    if (to <= from) continue;
    const centre = taps[0];
    for (let r = from, p = middle * stride + from; r < to; r++, p++) column[r] = centre * gathered[p];
    // Two pairs of places at a time: what lies outside a place's own rows is zero, and reading it is cheaper than another round.
    for (let k = 1; k <= reach; k += 2) {
      const far = k < reach ? k + 1 : k;
      const near = taps[k];
      const next = far > k ? taps[far] : 0;
      const left = middle - k;
      const right = middle + k;
      const a = Math.max(from, Math.min(low[left], low[right], low[middle - far], low[middle + far]));
      const b = Math.min(to, Math.max(high[left], high[right], high[middle - far], high[middle + far]));
      let p = left * stride + a;
      let q = right * stride + a;
      let u = (middle - far) * stride + a;
      let v = (middle + far) * stride + a;
      for (let r = a; r < b; r++) {
        column[r] += near * (gathered[p++] + gathered[q++]) + next * (gathered[u++] + gathered[v++]);
      }
    }
    for (let r = from, p = (from - pad) * columns + c; r < to; r++, p += columns) {
      // Differences of sums leave crumbs of 1e-8 on either side of nothing.
      if (column[r] > 0) out[p] += column[r];
    }
  }
}

/** Leaves the scratch all zero again, touching only what was written. */
export function clear(space: Workspace, width: number, stride: number): void {
  const { gathered, low, high } = space;
  for (let c = 0; c < width; c++) {
    if (high[c] > low[c]) gathered.fill(0, c * stride + low[c], c * stride + high[c]);
  }
}
