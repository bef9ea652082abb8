// The hot loops of faddeeva.ts and line-sum.ts once more, two numbers at a time, operation for operation, so that both
// give the same bits. Built by scripts/build-kernel.mjs into kernel-bytes.ts. All pointers are byte offsets.

@external("host", "exp")
declare function hostExp(x: f64): f64;

// Works out the coefficients of a node, of which the first is NaN until then.
@external("host", "fill")
declare function hostFill(node: i32): void;

// As in faddeeva-table.ts; the tests compare every bit of the results.
const NODES: i32 = 34;
const NODE_BYTES: i32 = 240;
const SPLIT: i32 = 11;
const STRIP: f64 = 1.0 / 128.0;
const GAUSS_BYTES: i32 = (NODES + 1) * NODES * NODE_BYTES;
const INV_SQRT_PI: f64 = 0.5641895835477563;
const WING: f64 = 1e4;
const FAR_WING: f64 = 1e6;

@inline
function at(pointer: i32, index: i32): f64 {
  return load<f64>(pointer + (index << 3));
}

@inline
function turn(a: v128): v128 {
  return v128.shuffle<f64>(a, a, 1, 0);
}

// a·(p + iq) + c for a = (re, im), P = (p, p), Q = (−q, q)
@inline
function step(a: v128, P: v128, Q: v128, c: v128): v128 {
  return f64x2.add(f64x2.add(f64x2.mul(a, P), f64x2.mul(turn(a), Q)), c);
}

@inline
function nodeOf(table: i32, i: i32, j: i32, split: i32): i32 {
  return table + ((split * NODES + j) * NODES + i) * NODE_BYTES;
}

// (−b, b)
@inline
function opposed(b: f64): v128 {
  return f64x2.replace_lane(f64x2.splat(b), 0, -b);
}

// Imaginary parts are positive for x > 0: the sign of x makes the mirror image.
@inline
function mirror(im: f64, x: f64): f64 {
  return copysign<f64>(im, x);
}

// x, y and out as in faddeevaArray; `series` holds the 17 coefficients of the asymptotic series. Two points go side by
// side through the Taylor series: one alone leaves the multipliers waiting.
// Returns `count`, or the index of the first point that is not finite or below the real axis, where it stops.
export function faddeeva(x: i32, y: i32, count: i32, table: i32, series: i32, out: i32): i32 {
  let k = 0;
  while (k < count) {
    const a0 = at(x, k);
    const b0 = at(y, k);
    const out0 = out + (k << 4);
    const pair = k + 1 < count;
    const a1 = pair ? at(x, k + 1) : a0;
    const b1 = pair ? at(y, k + 1) : b0;
    if (!(a0 * a0 + b0 * b0 < 64.0 && b0 >= 0.0)) {
      if (!(b0 >= 0.0 && b0 < Infinity && Math.abs(a0) < Infinity)) return k;
      far(a0, b0, series, out0);
      k++;
      continue;
    }
    const both = pair && a1 * a1 + b1 * b1 < 64.0 && b1 >= 0.0;
    near(a0, b0, both ? a1 : a0, both ? b1 : b0, table, out0, both ? out0 + 16 : out0);
    k += both ? 2 : 1;
  }
  return count;
}

@inline
function near(x0: f64, y0: f64, x1: f64, y1: f64, table: i32, out0: i32, out1: i32): void {
  const ax0 = Math.abs(x0);
  const ax1 = Math.abs(x1);
  const i0 = <i32>(ax0 * 4.0 + 0.5);
  const i1 = <i32>(ax1 * 4.0 + 0.5);
  const j0 = <i32>(y0 * 4.0 + 0.5);
  const j1 = <i32>(y1 * 4.0 + 0.5);
  const split0 = i32(y0 < STRIP) & i32(i0 >= SPLIT);
  const split1 = i32(y1 < STRIP) & i32(i1 >= SPLIT);
  const dRe0 = ax0 - <f64>i0 * 0.25;
  const dRe1 = ax1 - <f64>i1 * 0.25;
  const dIm0 = y0 - <f64>j0 * 0.25;
  const dIm1 = y1 - <f64>j1 * 0.25;
  const n0 = nodeOf(table, i0, j0, split0);
  const n1 = nodeOf(table, i1, j1, split1);
  if (isNaN(load<f64>(n0))) hostFill((n0 - table) / NODE_BYTES);
  if (isNaN(load<f64>(n1))) hostFill((n1 - table) / NODE_BYTES);
  const P0 = f64x2.splat((dRe0 - dIm0) * (dRe0 + dIm0));
  const P1 = f64x2.splat((dRe1 - dIm1) * (dRe1 + dIm1));
  const Q0 = opposed(2.0 * dRe0 * dIm0);
  const Q1 = opposed(2.0 * dRe1 * dIm1);
  let even0 = v128.load(n0);
  let even1 = v128.load(n1);
  let odd0 = v128.load(n0, 16);
  let odd1 = v128.load(n1, 16);
  even0 = step(even0, P0, Q0, v128.load(n0, 32));
  even1 = step(even1, P1, Q1, v128.load(n1, 32));
  odd0 = step(odd0, P0, Q0, v128.load(n0, 48));
  odd1 = step(odd1, P1, Q1, v128.load(n1, 48));
  even0 = step(even0, P0, Q0, v128.load(n0, 64));
  even1 = step(even1, P1, Q1, v128.load(n1, 64));
  odd0 = step(odd0, P0, Q0, v128.load(n0, 80));
  odd1 = step(odd1, P1, Q1, v128.load(n1, 80));
  even0 = step(even0, P0, Q0, v128.load(n0, 96));
  even1 = step(even1, P1, Q1, v128.load(n1, 96));
  odd0 = step(odd0, P0, Q0, v128.load(n0, 112));
  odd1 = step(odd1, P1, Q1, v128.load(n1, 112));
  even0 = step(even0, P0, Q0, v128.load(n0, 128));
  even1 = step(even1, P1, Q1, v128.load(n1, 128));
  odd0 = step(odd0, P0, Q0, v128.load(n0, 144));
  odd1 = step(odd1, P1, Q1, v128.load(n1, 144));
  even0 = step(even0, P0, Q0, v128.load(n0, 160));
  even1 = step(even1, P1, Q1, v128.load(n1, 160));
  odd0 = step(odd0, P0, Q0, v128.load(n0, 176));
  odd1 = step(odd1, P1, Q1, v128.load(n1, 176));
  even0 = step(even0, P0, Q0, v128.load(n0, 192));
  even1 = step(even1, P1, Q1, v128.load(n1, 192));
  odd0 = step(odd0, P0, Q0, v128.load(n0, 208));
  odd1 = step(odd1, P1, Q1, v128.load(n1, 208));
  even0 = step(even0, P0, Q0, v128.load(n0, 224));
  even1 = step(even1, P1, Q1, v128.load(n1, 224));
  const w0 = step(odd0, f64x2.splat(dRe0), opposed(dIm0), even0);
  const w1 = step(odd1, f64x2.splat(dRe1), opposed(dIm1), even1);
  store<f64>(out0, f64x2.extract_lane(w0, 0));
  store<f64>(out0, mirror(f64x2.extract_lane(w0, 1), x0), 8);
  store<f64>(out1, f64x2.extract_lane(w1, 0));
  store<f64>(out1, mirror(f64x2.extract_lane(w1, 1), x1), 8);
  if (split0) addGaussian(x0, y0, table, out0);
  if (split1 && out1 != out0) addGaussian(x1, y1, table, out1);
}

function addGaussian(x: f64, y: f64, table: i32, out: i32): void {
  const ax = Math.abs(x);
  const k = <i32>(ax * 256.0 + 0.5);
  const node = <f64>k * (1.0 / 256.0);
  const t = -(ax - node) * (ax + node);
  const t2 = t * t;
  const low = 1.0 + t + t2 * (1.0 / 2.0 + t * (1.0 / 6.0));
  const high = 1.0 / 24.0 + t * (1.0 / 120.0) + t2 * (1.0 / 720.0 + t * (1.0 / 5040.0));
  const gauss = load<f64>(table + GAUSS_BYTES + (k << 3)) * (low + t2 * t2 * high);
  const g = y * y;
  const size = gauss * (1.0 + g * (1.0 + g * (1.0 / 2.0 + g * (1.0 / 6.0))));
  const angle = 2.0 * x * y;
  const s = angle * angle;
  const cosine = 1.0 - s * (1.0 / 2.0 - s * (1.0 / 24.0 - s * (1.0 / 720.0 - s * (1.0 / 40320.0))));
  const sine = angle * (1.0 - s * (1.0 / 6.0 - s * (1.0 / 120.0 - s * (1.0 / 5040.0))));
  store<f64>(out, load<f64>(out) + size * cosine);
  store<f64>(out, load<f64>(out, 8) - size * sine, 8);
}

function termsFor(r2: f64): i32 {
  if (r2 > 1e4) return r2 > 1e8 ? (r2 > 1e16 ? 0 : 1) : r2 > 1e6 ? 2 : 4;
  return r2 > 400.0 ? 7 : r2 > 150.0 ? 10 : r2 > 100.0 ? 12 : 16;
}

function far(a: f64, b: f64, series: i32, out: i32): void {
  const r2 = a * a + b * b;
  if (r2 > 1e280) {
    const scale = Math.max(Math.abs(a), b);
    const c = a / scale;
    const d = b / scale;
    const inverse = INV_SQRT_PI / (c * c + d * d) / scale;
    store<f64>(out, d * inverse);
    store<f64>(out, c * inverse, 8);
    return;
  }
  const inverse = 1.0 / r2;
  const u = a * inverse;
  const v = b * inverse;
  const p = (u - v) * (u + v);
  const twice = 2.0 * p;
  const size = inverse * inverse;
  let b1: f64 = 0.0;
  let b2: f64 = 0.0;
  for (let n = termsFor(r2); n >= 1; n--) {
    const next = at(series, n) + twice * b1 - size * b2;
    b2 = b1;
    b1 = next;
  }
  const sum = 1.0 - size * b2 + p * b1;
  let re = INV_SQRT_PI * v * (sum + 2.0 * b1 * u * u);
  if (b < 1e-6 && Math.abs(a) < 27.3) {
    const head = <f64>(<f32>a);
    re += hostExp(-head * head) * hostExp(-(a - head) * (a + head));
  }
  store<f64>(out, re);
  store<f64>(out, INV_SQRT_PI * u * (sum - 2.0 * b1 * v * v), 8);
}

// One block of addLines: `components` packed components of five numbers; x, y, w, index are room for `count` near points.
export function addLines(
  packed: i32, components: i32, omegas: i32, count: i32, re: i32, im: i32,
  x: i32, y: i32, w: i32, index: i32, table: i32, series: i32,
): void {
  let low = at(omegas, 0);
  let high = low;
  for (let i = 1; i < count; i++) {
    const omega = at(omegas, i);
    if (omega < low) low = omega;
    if (omega > high) high = omega;
  }
  for (let c = 0; c < components; c++) {
    const component = packed + c * 40;
    const own = load<f64>(component);
    const centre = load<f64>(component, 8);
    const half = load<f64>(component, 16);
    const sigma = load<f64>(component, 24);
    const amplitude = load<f64>(component, 32);
    const d: f64 = low > centre ? low - centre : high < centre ? centre - high : 0.0;
    if (d * d + half * half >= FAR_WING * sigma * sigma) {
      farWings(own, centre, half, sigma, amplitude, omegas, count, re, im);
      continue;
    }
    const near = wings(own, centre, half, sigma, amplitude, omegas, count, re, im, x, y, index);
    if (near == 0) continue;
    faddeeva(x, y, near, table, series, w);
    const core = (amplitude * Math.sqrt(Math.PI)) / sigma;
    for (let n = 0; n < near; n++) {
      const i = load<i32>(index + (n << 2)) << 3;
      const from = w + (n << 4);
      store<f64>(re + i, load<f64>(re + i) + (amplitude / (own + load<f64>(omegas + i)) - core * load<f64>(from, 8)));
      store<f64>(im + i, load<f64>(im + i) + core * load<f64>(from));
    }
  }
}

function farWings(
  own: f64, centre: f64, half: f64, sigma: f64, amplitude: f64,
  omegas: i32, count: i32, re: i32, im: i32,
): void {
  const one = f64x2.splat(1.0);
  const ONE_HALF = f64x2.splat(0.5);
  const OWN = f64x2.splat(own);
  const CENTRE = f64x2.splat(centre);
  const HALF = f64x2.splat(half);
  const H2 = f64x2.splat(half * half);
  const S2 = f64x2.splat(sigma * sigma);
  const TWICE_S2 = f64x2.splat(2.0 * (sigma * sigma));
  const AMPLITUDE = f64x2.splat(amplitude);
  const A = f64x2.splat(0.75);
  const B = f64x2.splat(1.5);
  // an odd last point is done together with a neighbour that is not stored back: the room holds one double more
  for (let i = 0; i < count; i += 2) {
    const offset = i << 3;
    const omega = v128.load(omegas + offset);
    const d = f64x2.sub(omega, CENTRE);
    const r2 = f64x2.add(f64x2.mul(d, d), H2);
    const sum = f64x2.add(OWN, omega);
    const both = f64x2.div(one, f64x2.mul(r2, sum));
    const inverse = f64x2.mul(both, sum);
    const u = f64x2.mul(d, inverse);
    const v = f64x2.mul(HALF, inverse);
    const p = f64x2.mul(S2, f64x2.mul(f64x2.sub(u, v), f64x2.add(u, v)));
    const q = f64x2.mul(TWICE_S2, f64x2.mul(u, v));
    const sRe = f64x2.sub(
      f64x2.add(one, f64x2.mul(p, f64x2.add(ONE_HALF, f64x2.mul(A, p)))),
      f64x2.mul(f64x2.mul(A, q), q),
    );
    const sIm = f64x2.mul(q, f64x2.add(ONE_HALF, f64x2.mul(B, p)));
    const dRe = f64x2.mul(
      AMPLITUDE,
      f64x2.sub(f64x2.mul(both, r2), f64x2.sub(f64x2.mul(u, sRe), f64x2.mul(v, sIm))),
    );
    const dIm = f64x2.mul(AMPLITUDE, f64x2.add(f64x2.mul(v, sRe), f64x2.mul(u, sIm)));
    v128.store(re + offset, f64x2.add(v128.load(re + offset), dRe));
    v128.store(im + offset, f64x2.add(v128.load(im + offset), dIm));
  }
}

function wings(
  own: f64, centre: f64, half: f64, sigma: f64, amplitude: f64,
  omegas: i32, count: i32, re: i32, im: i32, x: i32, y: i32, index: i32,
): i32 {
  const s2 = sigma * sigma;
  const twiceS2 = 2.0 * s2;
  const wing = WING * s2;
  const farWing = FAR_WING * s2;
  const h2 = half * half;
  const perSigma = 1.0 / sigma;
  const height = half * perSigma;
  let near = 0;
  for (let i = 0; i < count; i++) {
    const offset = i << 3;
    const omega = load<f64>(omegas + offset);
    const d = omega - centre;
    const r2 = d * d + h2;
    if (r2 < wing) {
      store<f64>(x + (near << 3), d * perSigma);
      store<f64>(y + (near << 3), height);
      store<i32>(index + (near << 2), i);
      near++;
      continue;
    }
    const sum = own + omega;
    const both = 1.0 / (r2 * sum);
    const inverse = both * sum;
    const u = d * inverse;
    const v = half * inverse;
    const p = s2 * ((u - v) * (u + v));
    const q = twiceS2 * (u * v);
    let sRe: f64;
    let sIm: f64;
    if (r2 >= farWing) {
      sRe = 1.0 + p * (0.5 + 0.75 * p) - 0.75 * q * q;
      sIm = q * (0.5 + 1.5 * p);
    } else {
      const t2 = p * p - q * q;
      const s = 2.0 * p * q;
      sRe = 1.0 + 0.5 * p + 0.75 * t2 + 1.875 * (t2 * p - s * q) + 6.5625 * (t2 * t2 - s * s);
      sIm = 0.5 * q + 0.75 * s + 1.875 * (t2 * q + s * p) + 6.5625 * (2.0 * t2 * s);
    }
    store<f64>(re + offset, load<f64>(re + offset) + amplitude * (both * r2 - (u * sRe - v * sIm)));
    store<f64>(im + offset, load<f64>(im + offset) + amplitude * (v * sRe + u * sIm));
  }
  return near;
}
