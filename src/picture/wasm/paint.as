// The hot loops of lay.ts, fold.ts, fold-leaning.ts, beside.ts, view.ts and tint.ts once more, four pixels at a time where they lie side by side, operation for
// operation, so that both give the same bits. Built by scripts/build-kernel.mjs into paint-bytes.ts. All pointers are byte
// offsets. What the numbers mean is said in the TypeScript files.

// As in blur.ts and lay.ts; the tests compare every bit of the results.
const PHASES: i32 = 256;
const LONGEST: f64 = 32.0;
const ROUNDING: f64 = 1e-4;
const DARKEST: f64 = 1e-6;
const TOGETHER: f64 = 0.5;
const FULL: f64 = 1.25;
const FEWEST: i32 = 4;
const EVEN: f64 = 0.05;
const ALIKE: f64 = 0.005;
const LONG_RUN: f64 = 24.0;
const RUNS: f64 = 24.0;
const SHORTEST: f64 = 0.125;
const SLANT_PARTS: f64 = 6.0;
const LEAN_PARTS: f64 = 4.0;
const MOST_PARTS: f64 = 100.0;
// Rows and columns of the tile that fold works on: one line of the processor's nearest memory each way.
const TILE: i32 = 16;
// Intervals of wavelength whose heights are laid side by side before they are gone through: both tables then fit the nearest memory.
const SLAB: i32 = 16;
const BLACK: u32 = 0xff000000;

@inline
function f64At(pointer: i32, index: i32): f64 {
  return load<f64>(pointer + (index << 3));
}

@inline
function i32At(pointer: i32, index: i32): i32 {
  return load<i32>(pointer + (index << 2));
}

export function lay(
  n: i32, heights: i32, deflection: i32, transmission: i32, weights: i32, position: i32, share: i32,
  pixelsPerRadian: f64, slope: f64, bow: f64, cosine: f64, sine: f64,
  sums: i32, length: i32, origin: i32, half: i32, peak: f64,
  gathered: i32, low: i32, high: i32, width: i32, stride: i32, sub: i32,
  column0: f64, row0: f64, highest: f64, slab: i32,
): void {
  const columnBytes = stride << 2;
  const beamBytes = heights << 3;
  const lastRow = <f64>(stride - half - 2);
  const lastColumn = <f64>(width - 1);
  const lights = slab + (SLAB + 1) * beamBytes;
  const subs = <f64>sub;
  const perPeak = 1.0 / peak;
  const tilt = abs<f64>(sine);
  const bend = 2.0 * abs<f64>(bow);
  for (let i = 0; i + 1 < n; i++) {
    const inSlab = i % SLAB;
    if (inSlab == 0) sideBySide(min<i32>(SLAB, n - 1 - i), n, heights, deflection + (i << 3), transmission + (i << 3), weights, pixelsPerRadian, slab, lights);
    const bentA = slab + inSlab * beamBytes;
    const bentB = bentA + beamBytes;
    const lit = lights + inSlab * beamBytes;
    const xa = f64At(position, i);
    const xb = f64At(position, i + 1);
    const amount = f64At(share, i) * perPeak;
    const spread = abs<f64>(f64At(bentA, heights - 1) - load<f64>(bentA));
    const least = max<f64>(TOGETHER, spread * (1.0 / RUNS));
    const wanted = ceil<f64>(spread * (1.0 / LONG_RUN));
    const blocks = wanted > 1.0 ? <i32>min<f64>(<f64>heights, wanted) : 1;
    const size = (heights + blocks - 1) / blocks;
    let h = 0;
    let block = 0;
    while (h < heights) {
      let light: f64 = 0.0;
      let sumA: f64 = 0.0;
      let sumB: f64 = 0.0;
      const startA = f64At(bentA, h);
      const startB = f64At(bentB, h);
      let lastA = startA;
      let lastB = startB;
      let end = h;
      let even = false;
      const begins = h >= block;
      if (begins) block = min<i32>(heights, h + size);
      const count = block - h;
      // Light mostly grows or falls along the beam: where the ends are unlike, the rest need not be looked at.
      if (begins && count >= FEWEST && abs<f64>(f64At(lit, block - 1) - f64At(lit, h)) <= ALIKE * f64At(lit, h)) {
        const per = 1.0 / <f64>(count - 1);
        const endA = f64At(bentA, block - 1);
        const endB = f64At(bentB, block - 1);
        const gapA = f64x2.splat((endA - startA) * per);
        const gapB = f64x2.splat((endB - startB) * per);
        const A = f64x2.splat(startA);
        const B = f64x2.splat(startB);
        const firstLight = f64At(lit, h);
        const L = f64x2.splat(firstLight);
        let k = f64x2(0.0, 1.0);
        let off = f64x2.splat(0.0);
        let unlike = off;
        let lightOf = off;
        let sumsA = off;
        let sumsB = off;
        const ofA = bentA + (h << 3);
        const ofB = bentB + (h << 3);
        const ofL = lit + (h << 3);
        const bytes = (count & ~1) << 3;
        for (let at = 0; at < bytes; at += 16) {
          const ya = v128.load(ofA + at);
          const yb = v128.load(ofB + at);
          const w = v128.load(ofL + at);
          off = f64x2.pmax(off, f64x2.abs(f64x2.sub(ya, f64x2.add(A, f64x2.mul(k, gapA)))));
          off = f64x2.pmax(off, f64x2.abs(f64x2.sub(yb, f64x2.add(B, f64x2.mul(k, gapB)))));
          unlike = f64x2.pmax(unlike, f64x2.abs(f64x2.sub(w, L)));
          lightOf = f64x2.add(lightOf, w);
          sumsA = f64x2.add(sumsA, f64x2.mul(w, ya));
          sumsB = f64x2.add(sumsB, f64x2.mul(w, yb));
          k = f64x2.add(k, f64x2.splat(2.0));
        }
        let most = max<f64>(f64x2.extract_lane(off, 0), f64x2.extract_lane(off, 1));
        let odd = max<f64>(f64x2.extract_lane(unlike, 0), f64x2.extract_lane(unlike, 1));
        let l0 = f64x2.extract_lane(lightOf, 0);
        let a0 = f64x2.extract_lane(sumsA, 0);
        let b0 = f64x2.extract_lane(sumsB, 0);
        if (count & 1) {
          // The last one lies on its own line but for rounding.
          const w = f64At(lit, block - 1);
          odd = max<f64>(odd, abs<f64>(w - firstLight));
          l0 += w;
          a0 += w * endA;
          b0 += w * endB;
        }
        if (most <= EVEN && odd <= ALIKE * firstLight) {
          light = l0 + f64x2.extract_lane(lightOf, 1);
          sumA = a0 + f64x2.extract_lane(sumsA, 1);
          sumB = b0 + f64x2.extract_lane(sumsB, 1);
          lastA = endA;
          lastB = endB;
          end = block;
          even = true;
        }
      }
      if (end == h) {
        const near = max<f64>(least, 0.5 * abs<f64>(startB - startA));
        for (; end < block; end++) {
          const ya = f64At(bentA, end);
          const yb = f64At(bentB, end);
          if (max<f64>(abs<f64>(ya - startA), abs<f64>(yb - startB)) > near) break;
          const w = f64At(lit, end);
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
      const perLight = 1.0 / light;
      const y0 = sumA * perLight;
      const y1 = sumB * perLight;
      const inner: f64 = run > 1 ? 1.0 / <f64>(run - 1) : 0.0;
      let beforeA: f64 = 0.0;
      let beforeB: f64 = 0.0;
      let afterA: f64 = 0.0;
      let afterB: f64 = 0.0;
      if (first > 0) {
        beforeA = startA - f64At(bentA, first - 1);
        beforeB = startB - f64At(bentB, first - 1);
      }
      if (end < heights) {
        afterA = f64At(bentA, end) - lastA;
        afterB = f64At(bentB, end) - lastB;
      }
      if (first == 0) {
        beforeA = run > 1 ? (lastA - startA) * inner : afterA;
        beforeB = run > 1 ? (lastB - startB) * inner : afterB;
      }
      if (end == heights) {
        afterA = run > 1 ? (lastA - startA) * inner : beforeA;
        afterB = run > 1 ? (lastB - startB) * inner : beforeB;
      }
      const fanA = abs<f64>(lastA - startA + (beforeA + afterA) * 0.5);
      const fanB = !even ? fanA : abs<f64>(lastB - startB + (beforeB + afterB) * 0.5);
      const fan = max<f64>(fanA, fanB);
      const dy = y1 - y0;
      const reach = fan * 0.5;
      if (min<f64>(y0, y1) - reach > highest || max<f64>(y0, y1) + reach < -highest) continue;
      const slant = SLANT_PARTS * min<f64>(xb - xa, abs<f64>(dy));
      const along = min<f64>(MOST_PARTS, ceil<f64>(max<f64>(max<f64>(slant, abs<f64>(dy) * (1.0 / LONGEST)), 1.0)));
      const lean = !even ? 2.0 / LONGEST : LEAN_PARTS * (tilt + bend * (max<f64>(abs<f64>(y0), abs<f64>(y1)) + reach));
      const across = min<f64>(MOST_PARTS, ceil<f64>(max<f64>(1.0, max<f64>(FULL / LONGEST, lean) * fan)));
      const perAlong: f64 = along == 1.0 ? 1.0 : 1.0 / along;
      const perAcross: f64 = across == 1.0 ? 1.0 : 1.0 / across;
      const each = light * amount * 0.5 * (perAlong * perAcross);
      const halfSpan = (xb - xa) * perAlong * 0.5 * subs;
      const perPlace: f64 = halfSpan > 0.0 ? each / (2.0 * halfSpan) : 0.0;
      const rise = dy * perAlong;
      let start: f64 = 0.0;
      let stop = along;
      if (along > 1.0 && dy != 0.0) {
        const toTop = (highest + reach - y0) / dy;
        const toBottom = (-highest - reach - y0) / dy;
        start = max<f64>(0.0, floor<f64>(min<f64>(toTop, toBottom) * along));
        stop = min<f64>(along, ceil<f64>(max<f64>(toTop, toBottom) * along));
      }
      for (let a = start; a < stop; a += 1.0) {
        const f = (a + 0.5) * perAlong;
        const xLine = xa + (xb - xa) * f;
        const yLine = y0 + dy * f;
        const raised = slope * xLine;
        const wide = fanA + (fanB - fanA) * f;
        const step = wide * perAcross;
        const cover = max<f64>(SHORTEST, min<f64>(LONGEST, sqrt<f64>(rise * rise + step * step)));
        for (let b: f64 = 0.0; b < across; b += 1.0) {
          const own = yLine + wide * ((b + 0.5) * perAcross - 0.5);
          const x = xLine + bow * own * own;
          const y = own + raised;
          const v = row0 - (x * sine + y * cosine);
          const upper = floor<f64>((v - cover * 0.5) * <f64>PHASES + 0.5);
          const lower = floor<f64>((v + cover * 0.5) * <f64>PHASES + 0.5);
          const m1 = floor<f64>(upper * (1.0 / <f64>PHASES));
          const m2 = floor<f64>(lower * (1.0 / <f64>PHASES));
          if (!(m1 - <f64>half >= 0.0 && m2 + <f64>half + 1.0 <= lastRow)) continue;
          const middle = column0 + (x * cosine - y * sine) * subs;
          const left = middle - halfSpan;
          const right = middle + halfSpan;
          const c0 = floor<f64>(left + ROUNDING);
          const last0 = max<f64>(c0, floor<f64>(right - ROUNDING));
          if (!(c0 >= 0.0 && last0 < lastColumn)) continue;
          const row1 = <i32>m1;
          const row2 = <i32>m2;
          const top = row1 - half;
          const bottom = row2 + half + 1;
          const from1 = sums + (((<i32>upper - row1 * PHASES) * length + origin - row1 + top) << 2);
          const from2 = sums + (((<i32>lower - row2 * PHASES) * length + origin - row2 + top) << 2);
          const perRow = <f64>PHASES / (lower - upper);
          const last = <i32>last0;
          let edge = left;
          for (let c = <i32>c0; c <= last; c++) {
            const next: f64 = c < last ? <f64>(c + 1) : right;
            const here = (c == last && edge == left ? each : perPlace * (next - edge)) * perRow;
            const toRight = here * ((edge + next) * 0.5 - <f64>c);
            const toLeft = here - toRight;
            edge = next;
            mark(low, high, c, top, bottom);
            mark(low, high, c + 1, top, bottom);
            spreadRows(gathered + c * columnBytes + (top << 2), columnBytes, from1, from2, bottom - top, <f32>toLeft, <f32>toRight);
          }
        }
      }
    }
  }
}

// Heights in pixels at `count` + 1 wavelengths, and the light of the `count` intervals between, those of one wavelength in a row.
@inline
function sideBySide(
  count: i32, n: i32, heights: i32, deflection: i32, transmission: i32, weights: i32, pixelsPerRadian: f64, bent: i32, lights: i32,
): void {
  const beamBytes = heights << 3;
  for (let h = 0; h < heights; h++) {
    const weight = f64At(weights, h);
    const bends = deflection + ((h * n) << 3);
    const shares = transmission + ((h * n) << 3);
    let to = bent + (h << 3);
    for (let k = 0; k <= count; k++, to += beamBytes) store<f64>(to, f64At(bends, k) * pixelsPerRadian);
    to = lights + (h << 3);
    for (let k = 0; k < count; k++, to += beamBytes) store<f64>(to, weight * (f64At(shares, k) + f64At(shares, k + 1)));
  }
}

@inline
function mark(low: i32, high: i32, c: i32, top: i32, bottom: i32): void {
  const at = c << 2;
  if (top < load<i32>(low + at)) store<i32>(low + at, top);
  if (bottom > load<i32>(high + at)) store<i32>(high + at, bottom);
}

// Up to three rows beyond the last get nothing: both sums are 1 there.
@inline
function spreadRows(to: i32, columnBytes: i32, from1: i32, from2: i32, count: i32, toLeft: f32, toRight: f32): void {
  const L = f32x4.splat(toLeft);
  const R = f32x4.splat(toRight);
  const other = to + columnBytes;
  const bytes = count << 2;
  for (let r = 0; r < bytes; r += 16) {
    const part = f32x4.sub(v128.load(from1 + r), v128.load(from2 + r));
    v128.store(to + r, f32x4.add(v128.load(to + r), f32x4.mul(L, part)));
    v128.store(other + r, f32x4.add(v128.load(other + r), f32x4.mul(R, part)));
  }
}

// `from` and `to`, one number per column of the picture: first and last row that any of its places touched; room for 16 more.
// `tile` is room for 16 x 16 numbers.
export function fold(
  gathered: i32, low: i32, high: i32, taps: i32, reach: i32, sub: i32, picture: i32, columns: i32, rows: i32,
  margin: i32, pad: i32, stride: i32, stray: f32, from: i32, to: i32, tile: i32,
): void {
  for (let c = 0; c < columns; c++) {
    const middle = c * sub + margin;
    let first = stride;
    let last = -1;
    for (let k = middle - reach; k <= middle + reach; k++) {
      first = min<i32>(first, i32At(low, k));
      last = max<i32>(last, i32At(high, k));
    }
    store<i32>(from + (c << 2), first - pad);
    store<i32>(to + (c << 2), last - pad);
  }
  const STRAY = f32x4.splat(stray);
  // From end to end first: tile by tile every row would be another page of memory. The room behind the picture takes what is too much.
  const end = picture + ((rows * columns) << 2);
  for (let at = picture; at < end; at += 64) {
    v128.store(at, STRAY);
    v128.store(at, STRAY, 16);
    v128.store(at, STRAY, 32);
    v128.store(at, STRAY, 48);
  }
  for (let c0 = 0; c0 < columns; c0 += TILE) {
    const across = min<i32>(TILE, columns - c0);
    let first = rows;
    let last = 0;
    for (let c = c0; c < c0 + across; c++) {
      first = min<i32>(first, i32At(from, c));
      last = max<i32>(last, i32At(to, c));
    }
    for (let r0 = 0; r0 < rows; r0 += TILE) {
      const down = min<i32>(TILE, rows - r0);
      const target = picture + ((r0 * columns + c0) << 2);
      if (r0 >= last || r0 + TILE <= first) continue;
      for (let c = 0; c < across; c++) {
        const into = tile + (c << 6);
        if (r0 >= i32At(to, c0 + c) || r0 + TILE <= i32At(from, c0 + c)) {
          v128.store(into, STRAY);
          v128.store(into, STRAY, 16);
          v128.store(into, STRAY, 32);
          v128.store(into, STRAY, 48);
        } else {
          foldRows(gathered + ((((c0 + c) * sub + margin) * stride + pad + r0) << 2), stride << 2, taps, reach, into, STRAY);
        }
      }
      if (across == TILE) turnTile(tile, target, columns << 2, down);
      else {
        for (let r = 0; r < down; r++)
          for (let c = 0; c < across; c++)
            store<f32>(target + ((r * columns + c) << 2), load<f32>(tile + (c << 6) + (r << 2)));
      }
    }
  }
}

// As foldLeaning in fold-leaning.ts, four rows at a time; rows that do not begin side by side with the first in `gathered` are written over by the next four.
export function foldLeaning(
  gathered: i32, low: i32, high: i32, rowTaps: i32, rowStart: i32, rowPart: i32, half: i32, sub: i32, picture: i32, across: i32,
  columns: i32, rows: i32, margin: i32, pad: i32, stride: i32, least: i32, most: i32, stray: f32, perPlace: f32,
  from: i32, to: i32,
): void {
  let litFrom = rows;
  let litTo = 0;
  for (let c = 0; c < columns; c++) {
    const middle = c * sub + margin;
    let first = stride;
    let last = -1;
    for (let k = middle - half + least; k <= middle + half + most; k++) {
      first = min<i32>(first, i32At(low, k));
      last = max<i32>(last, i32At(high, k));
    }
    store<i32>(from + (c << 2), first - pad);
    store<i32>(to + (c << 2), last - pad);
    if (last > first) {
      litFrom = min<i32>(litFrom, first - pad);
      litTo = max<i32>(litTo, last - pad);
    }
  }
  litFrom = max<i32>(litFrom, 0);
  litTo = min<i32>(litTo, rows);
  const rowBytes = columns << 2;
  memory.fill(picture, 0, rows * rowBytes);
  memory.fill(across, 0, (rows + 2) * rowBytes);
  const tapBytes = rows << 2;
  const placeBytes = stride << 2;
  const left = margin - half;
  let r = litFrom;
  while (r < litTo) {
    const start = i32At(rowStart, r);
    let many = 1;
    while (many < 4 && r + many < litTo && i32At(rowStart, r + many) == start + many) many++;
    const weights = rowTaps + (r << 2);
    const light = picture + r * rowBytes;
    for (let c = 0; c < columns; c++) {
      if (i32At(from, c) >= r + many || i32At(to, c) <= r) continue;
      const places = gathered + (((c * sub + left) * stride + start) << 2);
      leanFour(places, placeBytes, weights, tapBytes, half, rowPart + (r << 2), light + (c << 2), across + (r + 1) * rowBytes + (c << 2), rowBytes);
    }
    r += many;
  }
  // Light from below the picture may have been written there.
  memory.fill(across + (rows + 1) * rowBytes, 0, rowBytes);
  const STRAY = f32x4.splat(stray);
  const PER_PLACE = f32x4.splat(perPlace);
  const none = f32x4.splat(0.0);
  // The room behind the picture takes what is too much.
  const end = picture + rows * rowBytes;
  let above = across;
  for (let at = picture; at < end; at += 16, above += 16) {
    const slope = f32x4.sub(v128.load(above + 2 * rowBytes), v128.load(above));
    v128.store(at, f32x4.add(STRAY, f32x4.max(none, f32x4.add(v128.load(at), f32x4.mul(PER_PLACE, slope)))));
  }
}

// Four rows of one column: light and its first moment across.
@inline
function leanFour(places: i32, placeBytes: i32, weights: i32, tapBytes: i32, half: i32, part: i32, light: i32, moment: i32, rowBytes: i32): void {
  let sum = f32x4.splat(0.0);
  let first = sum;
  let right = f32x4.splat(<f32>half);
  const one = f32x4.splat(1.0);
  for (let k = -half; k <= half; k++) {
    const here = f32x4.mul(v128.load(weights), v128.load(places));
    sum = f32x4.add(sum, here);
    first = f32x4.add(first, f32x4.mul(right, here));
    right = f32x4.sub(right, one);
    weights += tapBytes;
    places += placeBytes;
  }
  first = f32x4.add(first, f32x4.mul(v128.load(part), sum));
  v128.store_lane<f32>(light, sum, 0);
  v128.store_lane<f32>(light + rowBytes, sum, 1);
  v128.store_lane<f32>(light + 2 * rowBytes, sum, 2);
  v128.store_lane<f32>(light + 3 * rowBytes, sum, 3);
  v128.store_lane<f32>(moment, first, 0);
  v128.store_lane<f32>(moment + rowBytes, first, 1);
  v128.store_lane<f32>(moment + 2 * rowBytes, first, 2);
  v128.store_lane<f32>(moment + 3 * rowBytes, first, 3);
}

// Sixteen rows of one column of the picture.
@inline
function foldRows(middle: i32, columnBytes: i32, taps: i32, reach: i32, into: i32, STRAY: v128): void {
  const centre = v128.load32_splat(taps);
  let a = f32x4.mul(centre, v128.load(middle));
  let b = f32x4.mul(centre, v128.load(middle, 16));
  let c = f32x4.mul(centre, v128.load(middle, 32));
  let d = f32x4.mul(centre, v128.load(middle, 48));
  let left = middle;
  let right = middle;
  for (let k = 1; k <= reach; k++) {
    const tap = v128.load32_splat(taps + (k << 2));
    left -= columnBytes;
    right += columnBytes;
    a = f32x4.add(a, f32x4.mul(tap, f32x4.add(v128.load(left), v128.load(right))));
    b = f32x4.add(b, f32x4.mul(tap, f32x4.add(v128.load(left, 16), v128.load(right, 16))));
    c = f32x4.add(c, f32x4.mul(tap, f32x4.add(v128.load(left, 32), v128.load(right, 32))));
    d = f32x4.add(d, f32x4.mul(tap, f32x4.add(v128.load(left, 48), v128.load(right, 48))));
  }
  const none = f32x4.splat(0.0);
  v128.store(into, f32x4.add(STRAY, f32x4.max(none, a)));
  v128.store(into, f32x4.add(STRAY, f32x4.max(none, b)), 16);
  v128.store(into, f32x4.add(STRAY, f32x4.max(none, c)), 32);
  v128.store(into, f32x4.add(STRAY, f32x4.max(none, d)), 48);
}

// Sixteen columns of sixteen rows each, written as rows.
@inline
function turnTile(tile: i32, target: i32, rowBytes: i32, down: i32): void {
  for (let r = 0; r < down; r += 4) {
    for (let c = 0; c < TILE; c += 4) {
      const from = tile + (c << 6) + (r << 2);
      const a = v128.load(from);
      const b = v128.load(from, 64);
      const e = v128.load(from, 128);
      const f = v128.load(from, 192);
      const ab0 = v128.shuffle<i32>(a, b, 0, 4, 1, 5);
      const ab1 = v128.shuffle<i32>(a, b, 2, 6, 3, 7);
      const ef0 = v128.shuffle<i32>(e, f, 0, 4, 1, 5);
      const ef1 = v128.shuffle<i32>(e, f, 2, 6, 3, 7);
      const to = target + r * rowBytes + (c << 2);
      v128.store(to, v128.shuffle<i64>(ab0, ef0, 0, 2));
      if (r + 1 < down) v128.store(to + rowBytes, v128.shuffle<i64>(ab0, ef0, 1, 3));
      if (r + 2 < down) v128.store(to + 2 * rowBytes, v128.shuffle<i64>(ab1, ef1, 0, 2));
      if (r + 3 < down) v128.store(to + 3 * rowBytes, v128.shuffle<i64>(ab1, ef1, 1, 3));
    }
  }
}

// Leaves the scratch all zero again, touching only what was written.
export function clear(gathered: i32, low: i32, high: i32, width: i32, stride: i32): void {
  for (let c = 0; c < width; c++) {
    const first = i32At(low, c);
    const last = i32At(high, c);
    if (last > first) memory.fill(gathered + ((c * stride + first) << 2), 0, (last - first) << 2);
  }
}

// Up to three numbers behind `count` are read and written too.
export function brighter(light: i32, other: i32, count: i32, share: f32): void {
  const SHARE = f32x4.splat(share);
  const bytes = count << 2;
  for (let at = 0; at < bytes; at += 16)
    v128.store(light + at, f32x4.pmax(v128.load(light + at), f32x4.mul(SHARE, v128.load(other + at))));
}

// Colours of a picture; `hue` is three rows of `hues` numbers, `screen` a table of `steps` + 1 bytes.
export function view(
  light: i32, words: i32, columns: i32, rows: i32, hue: i32, hues: i32, margin: i32, sine: f64,
  screen: i32, steps: i32, gain: f64, fullest: f64,
): void {
  const rowBytes = columns << 2;
  const middle = <f64>rows / 2.0;
  const few = columns & ~3;
  let before = -1;
  for (let r = 0; r < rows; r++) {
    const shift = margin + <i32>floor<f64>((middle - <f64>r - 0.5) * sine + 0.5);
    const from = light + r * rowBytes;
    const to = words + r * rowBytes;
    const own = hue + (shift << 2);
    if (shift == before) {
      // Most of a picture is as it was one row higher.
      for (let c = 0; c < few; c += 4) {
        const at = c << 2;
        if (i32x4.all_true(f32x4.eq(v128.load(from + at), v128.load(from + at - rowBytes)))) {
          v128.store(to + at, v128.load(to + at - rowBytes));
        } else {
          for (let k = 0; k < 16; k += 4) colour(from + at + k, to + at + k, own + at + k, hues << 2, screen, steps, gain, fullest);
        }
      }
      for (let at = few << 2; at < rowBytes; at += 4) colour(from + at, to + at, own + at, hues << 2, screen, steps, gain, fullest);
    } else {
      for (let at = 0; at < rowBytes; at += 4) colour(from + at, to + at, own + at, hues << 2, screen, steps, gain, fullest);
    }
    before = shift;
  }
}

// Lays tints over pixels, four at a time: v + t(255 − v)/255 for each of their bytes, rounded.
export function tint(words: i32, tints: i32, bytes: i32): void {
  const all = i8x16.splat(-1);
  for (let at = 0; at < bytes; at += 16) {
    const light = v128.load(words + at);
    const over = v128.load(tints + at);
    const left = v128.xor(light, all);
    const low = per255(i16x8.extmul_low_i8x16_u(over, left));
    const high = per255(i16x8.extmul_high_i8x16_u(over, left));
    v128.store(words + at, i8x16.add(light, i8x16.narrow_i16x8_u(low, high)));
  }
}

@inline
function per255(product: v128): v128 {
  const half = i16x8.add(product, i16x8.splat(128));
  return i16x8.shr_u(i16x8.add(half, i16x8.shr_u(half, 8)), 8);
}

@inline
function colour(
  light: i32, word: i32, hue: i32, part: i32, screen: i32, steps: i32, gain: f64, fullest: f64,
): void {
  const level = <f64>load<f32>(light) * gain;
  if (level < 1.0) {
    store<u32>(word, BLACK);
    return;
  }
  const top = <f64>steps;
  const white = level < top ? level * (fullest / top) : fullest;
  const own = level * (1.0 - white);
  const red = own * <f64>load<f32>(hue) + level * white;
  const green = own * <f64>load<f32>(hue + part) + level * white;
  const blue = own * <f64>load<f32>(hue + 2 * part) + level * white;
  store<u32>(
    word,
    <u32>load<u8>(screen + (red < top ? <i32>red : steps)) |
      (<u32>load<u8>(screen + (green < top ? <i32>green : steps)) << 8) |
      (<u32>load<u8>(screen + (blue < top ? <i32>blue : steps)) << 16) |
      BLACK,
  );
}
