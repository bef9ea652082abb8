// The hot loops of pixel-slopes.ts, fit-slopes.ts and numerics' least-squares-qr.ts once more, two numbers at a time,
// operation for operation, so that both give the same bits. Built by scripts/build-kernel.mjs into slopes-bytes.ts. All
// pointers are byte offsets. What the numbers mean is said in the TypeScript files.

// As in slit-tables.ts and pixel-model.ts; the tests compare every bit of the results.
const PHASES: f64 = 64.0;
const LEVEL: f64 = 0.05;
const DARKEST: f64 = 1e-9;

@inline
function at(pointer: i32, index: i32): f64 {
  return load<f64>(pointer + (index << 3));
}

@inline
function add(pointer: i32, index: i32, value: f64): void {
  const place = pointer + (index << 3);
  store<f64>(place, load<f64>(place) + value);
}

@inline
function addPair(place: i32, value: v128): void {
  v128.store(place, f64x2.add(v128.load(place), value));
}

@inline
function tableIntegral(integral: i32, shape: i32, x: f64, top: i32): f64 {
  if (!(x > 0.0)) return 0.0;
  if (x >= <f64>top) return at(integral, top);
  const i = <i32>x;
  const f = x - <f64>i;
  const here = at(shape, i);
  return at(integral, i) + (f * (here + 0.5 * f * (at(shape, i + 1) - here))) / PHASES;
}

@inline
function tableValue(shape: i32, x: f64, top: i32): f64 {
  if (!(x > 0.0) || x >= <f64>top) return 0.0;
  const i = <i32>x;
  const here = at(shape, i);
  return here + (x - <f64>i) * (at(shape, i + 1) - here);
}

export function addStretch(
  from: i32, to: i32, every: i32, count: i32, sums: i32, height: i32,
  shape: i32, integral: i32, sigmaShape: i32, sigmaIntegral: i32, widthShape: i32, widthIntegral: i32, top: i32, reach: f64,
  a: f64, b: f64, light: f64, aSlope: i32, bSlope: i32, lightSlope: i32,
): void {
  const each = 4 + count;
  const low = min<f64>(a, b);
  const high = max<f64>(a, b);
  const run = high - low;
  const level = run < LEVEL;
  const middle = 0.5 * (a + b);
  for (let r = from; r <= to; r += every) {
    const here = at(height, r);
    let value: f64;
    let byA: f64;
    let byB: f64;
    let sigma: f64;
    let width: f64;
    if (level) {
      const x = (here - middle + reach) * PHASES;
      if (!(x > 0.0) || x >= <f64>top) continue;
      const i = <i32>x;
      const start = at(shape, i);
      const rise = at(shape, i + 1) - start;
      value = start + (x - <f64>i) * rise;
      byA = -0.5 * rise * PHASES;
      byB = byA;
      sigma = tableValue(sigmaShape, x, top);
      width = tableValue(widthShape, x, top);
    } else {
      const xLow = (here - low + reach) * PHASES;
      const xHigh = (here - high + reach) * PHASES;
      if (xHigh >= <f64>top || !(xLow > 0.0)) continue;
      value = (tableIntegral(integral, shape, xLow, top) - tableIntegral(integral, shape, xHigh, top)) / run;
      const byLow = (value - tableValue(shape, xLow, top)) / run;
      const byHigh = (tableValue(shape, xHigh, top) - value) / run;
      byA = a < b ? byLow : byHigh;
      byB = a < b ? byHigh : byLow;
      sigma = (tableIntegral(sigmaIntegral, sigmaShape, xLow, top) - tableIntegral(sigmaIntegral, sigmaShape, xHigh, top)) / run;
      width = (tableIntegral(widthIntegral, widthShape, xLow, top) - tableIntegral(widthIntegral, widthShape, xHigh, top)) / run;
    }
    const row = sums + ((r * each) << 3);
    add(row, 0, light * value);
    const lightA = light * byA;
    const lightB = light * byB;
    const pairValue = f64x2.splat(value);
    const pairA = f64x2.splat(lightA);
    const pairB = f64x2.splat(lightB);
    let q = 0;
    for (; q + 1 < count; q += 2) {
      const o = q << 3;
      addPair(
        row + 8 + o,
        f64x2.add(
          f64x2.add(f64x2.mul(v128.load(lightSlope + o), pairValue), f64x2.mul(pairA, v128.load(aSlope + o))),
          f64x2.mul(pairB, v128.load(bSlope + o)),
        ),
      );
    }
    if (q < count) add(row, 1 + q, at(lightSlope, q) * value + lightA * at(aSlope, q) + lightB * at(bSlope, q));
    add(row, count + 1, -(lightA + lightB));
    add(row, count + 2, light * sigma);
    add(row, count + 3, light * width);
  }
}

export function spread(
  first: i32, last: i32, every: i32, count: i32, sums: i32, height: i32, centre: i32, values: i32,
  along: f64, length: f64, mean: f64, upright: f64, byBlur: f64, bySigma: f64, byWidth: f64,
  smile: f64, s: f64, k: f64, columns: i32, rows: i32,
  index: i32, out: i32, taps: i32, blurTaps: i32, half: i32,
): void {
  const each = 4 + count;
  const strideBytes = (count + 6) << 3;
  const t = s / k;
  const reach = <f64>half;
  for (let r = first; r <= last; r += every) {
    const row = sums + ((r * each) << 3);
    const base = load<f64>(row) * length;
    if (!(base > DARKEST)) continue;
    for (let c = 0; c <= count; c++) store<f64>(values + (c << 3), at(row, c) * length);
    const straight = (<f64>rows / 2.0 - <f64>r - 0.5 - along * s) / k;
    const uRoll = 2.0 * smile * straight * (straight * t - along);
    const v = at(height, r);
    const vRoll = v * t - uRoll * t - (along + smile * straight * straight);
    const above = v - mean;
    const leaned = s * (1.0 - upright);
    const centreRoll = uRoll * k - (along + smile * straight * straight) * s - vRoll * leaned - v * k + upright * k * above;
    const uSmile = straight * straight;
    const vSmile = -uSmile * t;
    const centreSmile = uSmile * k - vSmile * leaned;
    const byHeight = at(row, count + 1) * length;
    const turned = f64x2.replace_lane(f64x2.splat(byHeight * vRoll), 1, byHeight * vSmile);
    const carried = f64x2.replace_lane(f64x2.splat(centreRoll), 1, centreSmile);
    const shaped = f64x2.mul(v128.load(row + ((count + 2) << 3)), f64x2.splat(length));
    const asideBlur = above * byBlur;
    const asideShapes = f64x2.replace_lane(f64x2.splat(above * bySigma), 1, above * byWidth);
    const x0 = at(centre, r);
    const from = max<f64>(0.0, ceil<f64>(x0 - 0.5 - reach));
    const to = min<f64>(<f64>(columns - 1), floor<f64>(x0 - 0.5 + reach));
    if (!(from <= to)) continue;
    const x = (from + 0.5 - x0 + reach) * PHASES;
    const start = <i32>x;
    const f = x - <f64>start;
    let tap = start << 3;
    const end = <i32>to;
    const listedRow = index + ((r * columns) << 2);
    for (let c = <i32>from; c <= end; c++, tap += 512) {
      const listed = load<i32>(listedRow + (c << 2));
      if (listed < 0) continue;
      const low = load<f64>(taps + tap);
      const rise = load<f64>(taps + tap, 8) - low;
      const w = low + f * rise;
      const moved = -rise * PHASES * base;
      const pixel = out + listed * strideBytes;
      const pair = f64x2.splat(w);
      let q = 0;
      for (; q < count; q += 2) addPair(pixel + (q << 3), f64x2.mul(pair, v128.load(values + (q << 3))));
      if (q == count) add(pixel, count, w * at(values, count));
      const shapes = pixel + ((count + 1) << 3);
      addPair(shapes, f64x2.add(f64x2.mul(pair, turned), f64x2.mul(f64x2.splat(moved), carried)));
      const blurLow = load<f64>(blurTaps + tap);
      add(shapes, 2, base * (blurLow + f * (load<f64>(blurTaps + tap, 8) - blurLow)) + moved * asideBlur);
      addPair(shapes + 24, f64x2.add(f64x2.mul(pair, shaped), f64x2.mul(f64x2.splat(moved), asideShapes)));
    }
  }
}

// `slots`: place of each term among a pixel's numbers, −1 for the background. `stage`: terms × room, column by column.
export function turn(
  light: i32, stride: i32, weight: i32, weightDark: i32, from: i32, count: i32,
  slots: i32, terms: i32, perBrightness: f64, stage: i32, room: i32,
): void {
  const weights = weight + (from << 3);
  for (let k = 0; k < terms; k++) {
    const column = stage + ((k * room) << 3);
    const slot = load<i32>(slots + (k << 2));
    if (slot < 0) {
      memory.copy(column, weightDark + (from << 3), count << 3);
      continue;
    }
    const factor: f64 = slot == 0 ? perBrightness : 1.0;
    let pixel = light + ((from * stride + slot) << 3);
    for (let i = 0; i < count; i++, pixel += stride << 3)
      store<f64>(column + (i << 3), load<f64>(pixel) * factor * at(weights, i));
  }
}

// Products of all pairs of columns, the right-hand side as the last, added block by block. `turned`: block × width, row by
// row; `sums`: width × width, (j, i) with i ≤ j true, the rest not. Width: a multiple of four.
export function products(
  light: i32, stride: i32, weight: i32, weightDark: i32, rhs: i32, count: i32, block: i32,
  slots: i32, terms: i32, perBrightness: f64, turned: i32, width: i32, sums: i32,
): void {
  const rowBytes = width << 3;
  for (let from = 0; from < count; from += block) {
    const to = min<i32>(from + block, count);
    let row = turned;
    for (let i = from; i < to; i++, row += rowBytes) {
      const pixel = light + ((i * stride) << 3);
      const here = at(weight, i);
      for (let k = 0; k < terms; k++) {
        const slot = load<i32>(slots + (k << 2));
        const factor: f64 = slot == 0 ? perBrightness : 1.0;
        store<f64>(row + (k << 3), slot < 0 ? at(weightDark, i) : at(pixel, slot) * factor * here);
      }
      store<f64>(row + (terms << 3), at(rhs, i));
    }
    addPairs(turned, row, terms + 1, rowBytes, sums);
  }
}

@inline
function addPairs(turned: i32, end: i32, columns: i32, rowBytes: i32, sums: i32): void {
  for (let j = 0; j < columns; j += 2)
    for (let i = 0; i <= j + 1; i += 4) {
      let a0 = f64x2.splat(0.0);
      let a1 = a0;
      let b0 = a0;
      let b1 = a0;
      const x = j << 3;
      const u = i << 3;
      for (let row = turned; row < end; row += rowBytes) {
        const first = v128.load64_splat(row + x);
        const second = v128.load64_splat(row + x, 8);
        const left = v128.load(row + u);
        const right = v128.load(row + u, 16);
        a0 = f64x2.add(a0, f64x2.mul(first, left));
        a1 = f64x2.add(a1, f64x2.mul(first, right));
        b0 = f64x2.add(b0, f64x2.mul(second, left));
        b1 = f64x2.add(b1, f64x2.mul(second, right));
      }
      const to = sums + j * rowBytes + u;
      addPair(to, a0);
      addPair(to + 16, a1);
      addPair(to + rowBytes, b0);
      addPair(to + rowBytes + 16, b1);
    }
}
