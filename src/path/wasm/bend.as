// The loop of curve-bundle.ts over wavelengths once more, two numbers at a time, operation for operation, so that both give
// the same bits. Built by scripts/build-kernel.mjs into bend-bytes.ts. All pointers are byte offsets.

// As in attenuation.ts; the tests compare every bit of the results.
const THIN: f64 = 0.01;
const PER_LN2: f64 = 1.4426950408889634;
const LN2_HIGH: f64 = 0.6931471803691238;
const LN2_LOW: f64 = 1.9082149292705877e-10;
// Halvings after which a double still holds something.
const HALVINGS: f64 = 1074.0;

// Where `count` is odd, one number behind each array is read and written too.
export function bend(
  count: i32, refractivity: i32, crossSection: i32, gradient: f64, gas: f64, density: f64, deflection: i32, transmission: i32,
): void {
  const GRADIENT = f64x2.splat(gradient);
  const GAS = f64x2.splat(gas);
  const DENSITY = f64x2.splat(density);
  const LIMIT = f64x2.splat(THIN);
  const bytes = count << 3;
  for (let at = 0; at < bytes; at += 16) {
    v128.store(deflection + at, f64x2.add(f64x2.mul(v128.load(refractivity + at), GRADIENT), GAS));
    const x = f64x2.mul(v128.load(crossSection + at), DENSITY);
    const thin = f64x2.lt(x, LIMIT);
    let left = shallow(x);
    if (!i64x2.all_true(thin)) left = v128.bitselect(left, deep(x), thin);
    v128.store(transmission + at, left);
  }
}

@inline
function shallow(x: v128): v128 {
  const one = f64x2.splat(1.0);
  let sum = f64x2.sub(f64x2.splat(1.0 / 120.0), f64x2.mul(x, f64x2.splat(1.0 / 720.0)));
  sum = f64x2.sub(f64x2.splat(1.0 / 24.0), f64x2.mul(x, sum));
  sum = f64x2.sub(f64x2.splat(1.0 / 6.0), f64x2.mul(x, sum));
  sum = f64x2.sub(f64x2.splat(1.0 / 2.0), f64x2.mul(x, sum));
  sum = f64x2.sub(one, f64x2.mul(x, sum));
  return f64x2.sub(one, f64x2.mul(x, sum));
}

@inline
function deep(x: v128): v128 {
  const n = f64x2.floor(f64x2.add(f64x2.mul(x, f64x2.splat(PER_LN2)), f64x2.splat(0.5)));
  const some = f64x2.le(n, f64x2.splat(HALVINGS));
  if (!v128.any_true(some)) return some;
  const r = f64x2.add(
    f64x2.sub(f64x2.mul(n, f64x2.splat(LN2_HIGH)), x),
    f64x2.mul(n, f64x2.splat(LN2_LOW)),
  );
  const r2 = f64x2.mul(r, r);
  const r4 = f64x2.mul(r2, r2);
  const low = f64x2.add(
    f64x2.add(f64x2.add(f64x2.splat(1.0), r), f64x2.mul(r2, pair(1.0 / 2.0, r, 1.0 / 6.0))),
    f64x2.mul(r4, f64x2.add(pair(1.0 / 24.0, r, 1.0 / 120.0), f64x2.mul(r2, pair(1.0 / 720.0, r, 1.0 / 5040.0)))),
  );
  const high = f64x2.add(
    f64x2.add(pair(1.0 / 40320.0, r, 1.0 / 362880.0), f64x2.mul(r2, pair(1.0 / 3628800.0, r, 1.0 / 39916800.0))),
    f64x2.mul(r4, pair(1.0 / 479001600.0, r, 1.0 / 6227020800.0)),
  );
  const value = f64x2.add(low, f64x2.mul(f64x2.mul(r4, r4), high));
  // In two steps, of which the first is exact: 2^-n itself is no normal number where n is large.
  const half = f64x2.floor(f64x2.mul(n, f64x2.splat(0.5)));
  const halved = f64x2.mul(f64x2.mul(value, power(half)), power(f64x2.sub(n, half)));
  return v128.and(halved, some);
}

// a + r·b
@inline
function pair(a: f64, r: v128, b: f64): v128 {
  return f64x2.add(f64x2.splat(a), f64x2.mul(r, f64x2.splat(b)));
}

// 2^-n for whole n from 0 to 1022: a double as large as 2^52 ends with its own digits, and the exponent is the first of twelve bits.
@inline
function power(n: v128): v128 {
  return i64x2.shl(i64x2.sub(i64x2.splat(1023), f64x2.add(n, f64x2.splat(4503599627370496.0))), 52);
}
