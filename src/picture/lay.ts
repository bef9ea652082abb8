/** Lays the light of a bundle of curves down, spread along the height, at places along the width. */
import type { CurveBundle } from "../path/api.ts";
import { type HeightKernel, LONGEST, PHASES } from "./blur.ts";
import type { Extent } from "./fold.ts";
import type { Geometry } from "./geometry.ts";
import type { Workspace } from "./workspace.ts";

/** Rows of heights in the kernel's slab: bends at 17 wavelengths, light of the 16 intervals between. */
export const SLAB_ROWS = 33;
/** Part of a column by which a stretch may overshoot a column's middle. */
const ROUNDING = 1e-4;
/** Light below this share of the cold line is not laid down. */
const DARKEST = 1e-6;
/** Neighbouring heights whose curves lie closer than this many pixels are laid down as one stretch as long as they cover. */
const TOGETHER = 0.5;
/** Heights farther apart go together too, in blocks of about this many pixels and of no fewer heights… */
const LONG_RUN = 24;
const FEWEST = 4;
/** …if each lies on the straight line from the first to the last to this many pixels… */
const EVEN = 0.05;
/** …and has the first one's light to this share. */
const ALIKE = 0.005;
/** Where the beam is fanned out widely, about this many runs make it up. */
const RUNS = 24;
/** Shortest stretch along the height, pixels: a point is smeared by this much (adds 0.0013 of a squared pixel). */
const SHORTEST = 0.125;
/** Parts per pixel into which a slanting stretch goes, so that it does not fill the rectangle around it. */
const SLANT_PARTS = 6;
/** A stretch that fans out over LONGEST/FULL pixels still has room to rise within LONGEST. */
const FULL = 1.25;
/** Parts per pixel by which the two ends of a stretch lie apart across, by roll or bow. */
const LEAN_PARTS = 4;
/** Parts into which one stretch goes at most along the wavelength and from height to height. */
const MOST_PARTS = 100;

/**
 * Lays the light down. Layout: gathered[(sub·column + margin)·stride + row + pad].
 * For each interval of wavelength, runs of neighbouring heights that lie close, or evenly with even light, become one stretch: a box along the height as
 * long as the run and the curve's own rise cover, at the mean place of its light. Stretches that run slantwise are parted along the wavelength so that the slant is followed.
 * What is added to `gathered` is rounded to single precision, as the kernel's vectors do.
 */
export function lay(
  bundle: CurveBundle,
  space: Workspace,
  g: Geometry,
  pixelsPerRadian: number,
  kernel: HeightKernel,
  extent: Extent,
): void {
  const { deflection, transmission, weights } = bundle;
  const n = bundle.wavelengths.length;
  const heights = weights.length;
  const { gathered, low, high, position, share, sums } = space.arrays;
  const { length, origin, half, peak } = kernel;
  const { slope, bow, cosine, sine } = g;
  const { sub, margin, pad, width, stride } = extent;
  // Whole numbers are the middles of rows here, and `sub` of them make a column: place 0 is the middle of the first.
  const column0 = (g.middleColumn - 0.5) * sub + margin;
  const row0 = g.middleRow + pad - 0.5;
  // Heights beyond which nothing lands on the picture, whatever the roll.
  const highest = (g.middleRow + half + 1 + (Math.abs(sine) + Math.abs(slope)) * (width / sub)) / cosine;
  if (space.kernel !== undefined) {
    const { arrays } = space;
    arrays.deflection.set(deflection);
    arrays.transmission.set(transmission);
    arrays.weights.set(weights);
    const at = (array: ArrayBufferView): number => array.byteOffset;
    // biome-ignore format: in the order of paint.as
    space.kernel.lay(
      n, heights, at(arrays.deflection), at(arrays.transmission), at(arrays.weights), at(position), at(share),
      pixelsPerRadian, slope, bow, cosine, sine,
      at(sums), length, origin, half, peak,
      at(gathered), at(low), at(high), width, stride, sub,
      column0, row0, highest, at(arrays.slab),
    );
    return;
  }
  const { fround } = Math;
  const perPeak = 1 / peak;
  const tilt = Math.abs(sine);
  const bend = 2 * Math.abs(bow);
  const lastRow = stride - half - 2;
  for (let i = 0; i + 1 < n; i++) {
    const xa = position[i];
    const xb = position[i + 1];
    const amount = share[i] * perPeak;
    const spread = Math.abs(
      deflection[(heights - 1) * n + i] * pixelsPerRadian - deflection[i] * pixelsPerRadian,
    );
    const least = Math.max(TOGETHER, spread * (1 / RUNS));
    const size = blockOf(heights, spread);
    let h = 0;
    let block = 0;
    while (h < heights) {
      // A run of heights from h on: light, and the light's mean heights at both ends of the interval.
      let light = 0;
      let sumA = 0;
      let sumB = 0;
      const at = h * n + i;
      const startA = deflection[at] * pixelsPerRadian;
      const startB = deflection[at + 1] * pixelsPerRadian;
      let lastA = startA;
      let lastB = startB;
      let end = h;
      let even = false;
      const begins = h >= block;
      if (begins) block = Math.min(heights, h + size);
      const count = block - h;
      const p = (block - 1) * n + i;
      const firstLight = weights[h] * (transmission[at] + transmission[at + 1]);
      const lastLight = weights[block - 1] * (transmission[p] + transmission[p + 1]);
      // Light mostly grows or falls along the beam: where the ends are unlike, the rest need not be looked at.
      if (begins && count >= FEWEST && Math.abs(lastLight - firstLight) <= ALIKE * firstLight) {
        // Even ones go as one box. Two sums side by side, as the kernel's vectors have them.
        const per = 1 / (count - 1);
        const gapA = (deflection[p] * pixelsPerRadian - startA) * per;
        const gapB = (deflection[p + 1] * pixelsPerRadian - startB) * per;
        let off = 0;
        let unlike = 0;
        let [light2, sumA2, sumB2] = [0, 0, 0];
        for (let k = 0; k < count; k++) {
          const q = at + k * n;
          const ya = deflection[q] * pixelsPerRadian;
          const yb = deflection[q + 1] * pixelsPerRadian;
          const w = weights[h + k] * (transmission[q] + transmission[q + 1]);
          const offA = Math.abs(ya - (startA + k * gapA));
          const offB = Math.abs(yb - (startB + k * gapB));
          if (offA > off) off = offA;
          if (offB > off) off = offB;
          if (Math.abs(w - firstLight) > unlike) unlike = Math.abs(w - firstLight);
          if (k & 1) {
            light2 += w;
            sumA2 += w * ya;
            sumB2 += w * yb;
          } else {
            light += w;
            sumA += w * ya;
            sumB += w * yb;
          }
        }
        if (off <= EVEN && unlike <= ALIKE * firstLight) {
          light += light2;
          sumA += sumA2;
          sumB += sumB2;
          lastA = deflection[p] * pixelsPerRadian;
          lastB = deflection[p + 1] * pixelsPerRadian;
          end = block;
          even = true;
        }
      }
      if (end === h) {
        light = 0;
        sumA = 0;
        sumB = 0;
        const near = Math.max(least, 0.5 * Math.abs(startB - startA));
        for (let p = at; end < block; end++, p += n) {
          const ya = deflection[p] * pixelsPerRadian;
          const yb = deflection[p + 1] * pixelsPerRadian;
          if (Math.max(Math.abs(ya - startA), Math.abs(yb - startB)) > near) break;
          const w = weights[end] * (transmission[p] + transmission[p + 1]);
          light += w;
          sumA += w * ya;
          sumB += w * yb;
          lastA = ya;
          lastB = yb;
        }
      }
      const run = end - h;
      const first = h;
      h = end;
      if (!(light > DARKEST)) continue;
      const perLight = 1 / light;
      const y0 = sumA * perLight;
      const y1 = sumB * perLight;
      // Covered from height to height: the run's own extent and half a gap on either side, at the beam's edges as much as on the other side.
      const inner = run > 1 ? 1 / (run - 1) : 0;
      let beforeA = 0;
      let beforeB = 0;
      let afterA = 0;
      let afterB = 0;
      if (first > 0) {
        beforeA = startA - deflection[at - n] * pixelsPerRadian;
        beforeB = startB - deflection[at - n + 1] * pixelsPerRadian;
      }
      if (end < heights) {
        const p = end * n + i;
        afterA = deflection[p] * pixelsPerRadian - lastA;
        afterB = deflection[p + 1] * pixelsPerRadian - lastB;
      }
      if (first === 0) {
        beforeA = run > 1 ? (lastA - startA) * inner : afterA;
        beforeB = run > 1 ? (lastB - startB) * inner : afterB;
      }
      if (end === heights) {
        afterA = run > 1 ? (lastA - startA) * inner : beforeA;
        afterB = run > 1 ? (lastB - startB) * inner : beforeB;
      }
      const fanA = Math.abs(lastA - startA + (beforeA + afterA) * 0.5);
      const fanB = !even ? fanA : Math.abs(lastB - startB + (beforeB + afterB) * 0.5);
      const fan = Math.max(fanA, fanB);
      const dy = y1 - y0;
      const reach = fan * 0.5;
      if (Math.min(y0, y1) - reach > highest || Math.max(y0, y1) + reach < -highest) continue;
      const slant = SLANT_PARTS * Math.min(xb - xa, Math.abs(dy));
      const along = Math.min(MOST_PARTS, Math.ceil(Math.max(slant, Math.abs(dy) * (1 / LONGEST), 1)));
      const lean = !even
        ? 2 / LONGEST
        : LEAN_PARTS * (tilt + bend * (Math.max(Math.abs(y0), Math.abs(y1)) + reach));
      const across = Math.min(MOST_PARTS, Math.ceil(Math.max(1, Math.max(FULL / LONGEST, lean) * fan)));
      const perAlong = along === 1 ? 1 : 1 / along;
      const perAcross = across === 1 ? 1 : 1 / across;
      const each = light * amount * 0.5 * (perAlong * perAcross);
      const halfSpan = (xb - xa) * perAlong * 0.5 * sub;
      const perPlace = halfSpan > 0 ? each / (2 * halfSpan) : 0;
      const rise = dy * perAlong;
      // Only the parts that can land on the picture.
      let start = 0;
      let stop = along;
      if (along > 1 && dy !== 0) {
        const toTop = (highest + reach - y0) / dy;
        const toBottom = (-highest - reach - y0) / dy;
        start = Math.max(0, Math.floor(Math.min(toTop, toBottom) * along));
        stop = Math.min(along, Math.ceil(Math.max(toTop, toBottom) * along));
      }
      for (let a = start; a < stop; a++) {
        const f = (a + 0.5) * perAlong;
        const xLine = xa + (xb - xa) * f;
        const yLine = y0 + dy * f;
        const raised = slope * xLine;
        const wide = fanA + (fanB - fanA) * f;
        const step = wide * perAcross;
        const cover = Math.max(SHORTEST, Math.min(LONGEST, Math.sqrt(rise * rise + step * step)));
        for (let b = 0; b < across; b++) {
          const own = yLine + wide * ((b + 0.5) * perAcross - 0.5);
          const x = xLine + bow * own * own;
          const y = own + raised;
          const v = row0 - (x * sine + y * cosine);
          // Both ends of the cover, to the nearest 1/PHASES of a row.
          const upper = Math.floor((v - cover * 0.5) * PHASES + 0.5);
          const lower = Math.floor((v + cover * 0.5) * PHASES + 0.5);
          const m1 = Math.floor(upper * (1 / PHASES));
          const m2 = Math.floor(lower * (1 / PHASES));
          const top = m1 - half;
          const bottom = m2 + half + 1;
          if (!(top >= 0 && bottom <= lastRow)) continue;
          const middle = column0 + (x * cosine - y * sine) * sub;
          const left = middle - halfSpan;
          const right = middle + halfSpan;
          // Ends that meet a place but for rounding do not cross it.
          let c = Math.floor(left + ROUNDING);
          const last = Math.max(c, Math.floor(right - ROUNDING));
          if (!(c >= 0 && last + 1 < width)) continue;
          const from1 = (upper - m1 * PHASES) * length + origin - m1;
          const from2 = (lower - m2 * PHASES) * length + origin - m2;
          const perRow = PHASES / (lower - upper);
          let edge = left;
          for (; c <= last; c++) {
            // Between places c and c + 1: shared out by the place of the piece's middle.
            const next = c < last ? c + 1 : right;
            const here = (c === last && edge === left ? each : perPlace * (next - edge)) * perRow;
            const rightPart = here * ((edge + next) * 0.5 - c);
            const toLeft = fround(here - rightPart);
            const toRight = fround(rightPart);
            edge = next;
            if (top < low[c]) low[c] = top;
            if (bottom > high[c]) high[c] = bottom;
            if (top < low[c + 1]) low[c + 1] = top;
            if (bottom > high[c + 1]) high[c + 1] = bottom;
            let to = c * stride + top;
            for (let r = top; r < bottom; r++) {
              const part = fround(sums[from1 + r] - sums[from2 + r]);
              gathered[to] += fround(toLeft * part);
              gathered[to + stride] += fround(toRight * part);
              to++;
            }
          }
        }
      }
    }
  }
}

/** Heights that may go together as one box, for a beam fanned out over so many pixels: all of them, or the parts of an even division. */
function blockOf(heights: number, spread: number): number {
  const blocks = Math.ceil(spread * (1 / LONG_RUN));
  return blocks > 1 ? Math.ceil(heights / Math.min(heights, blocks)) : heights;
}
