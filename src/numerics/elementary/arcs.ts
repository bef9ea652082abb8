/** Angles from their sines, cosines and tangents, the same bits in every engine. */
import { productError, sumError } from "./doubles.ts";

/** arctan(j/8) in two parts, j = 0 … 8. */
const ANGLE = new Float64Array([
  0, 0.12435499454676144, 0.24497866312686414, 0.35877067027057225, 0.4636476090008061, 0.5585993153435624,
  0.6435011087932844, 0.7188299996216245, 0.7853981633974483,
]);
const ANGLE_LOW = new Float64Array([
  0, -3.1253241424539383e-18, 1.0698755618734451e-17, -2.4623815582638635e-17, 2.2698777452961687e-17,
  -5.4556305485916264e-18, 1.5834785051444286e-17, -2.1478388444456983e-17, 3.061616997868383e-17,
]);
const HALF_PI = 1.5707963267948966;
const HALF_PI_LOW = 6.123233995736766e-17;
const PI_LOW = 1.2246467991473532e-16;

/**
 * Angle of the point (x + xLow, y + yLow) for x, y ≥ 0, not both 0, both between 1e-130 and 1e130 or their ratio below 1e-18: from the nearest eighth j/8 of
 * the smaller by the larger, arctan(j/8) + arctan t, t = (a − j/8·b)/(b + j/8·a), |t| ≤ 1/16.
 * @param other true: π less that angle
 */
function angleOf(y: number, yLow: number, x: number, xLow: number, other: boolean): number {
  const steep = y > x;
  const a = steep ? x : y;
  const b = steep ? y : x;
  const aLow = steep ? xLow : yLow;
  const bLow = steep ? yLow : xLow;
  const ratio = a / b;
  let high = ratio;
  let low = 0;
  if (ratio > 1e-18) {
    const j = Math.floor(8 * ratio + 0.5);
    const c = j / 8;
    const ca = c * a;
    const cb = c * b;
    const over = a - cb;
    const under = b + ca;
    const underLow = sumError(b, ca, under) + (productError(c, a, ca) + bLow + c * aLow);
    const overLow = sumError(a, -cb, over) - productError(c, b, cb) + (aLow - c * bLow);
    const t = over / under;
    const p = t * under;
    const tLow = (over - p - productError(t, under, p) + (overLow - t * underLow)) / under;
    const z = t * t;
    const series =
      t *
      z *
      (-1 / 3 + z * (1 / 5 + z * (-1 / 7 + z * (1 / 9 + z * (-1 / 11 + z * (1 / 13 + z * (-1 / 15)))))));
    const head = ANGLE[j] + t;
    const rest = (j === 0 ? 0 : sumError(ANGLE[j], t, head)) + (ANGLE_LOW[j] + tLow + series);
    high = head + rest;
    low = rest - (high - head);
  }
  if (steep) {
    const from = HALF_PI - high;
    low = sumError(HALF_PI, -high, from) + (HALF_PI_LOW - low);
    high = from;
  }
  if (!other) return high + low;
  const from = Math.PI - high;
  return from + (sumError(Math.PI, -high, from) + (PI_LOW - low));
}

/** Angle of the point (x, y), rad, from −π to π, with the language's own special cases; error below 0.6 units of the last place. */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return NaN;
  const left = x < 0 || Object.is(x, -0);
  const below = y < 0 || Object.is(y, -0);
  let a = Math.abs(y);
  let b = Math.abs(x);
  if (a === 0 && b === 0) b = 1;
  if (a === Infinity || b === Infinity) {
    a = a === Infinity ? 1 : 0;
    b = b === Infinity ? 1 : 0;
  }
  const most = Math.max(a, b);
  if (most > 1e100 || most < 1e-100) {
    const scale = most > 1 ? 2 ** -600 : 2 ** 600;
    a *= scale;
    b *= scale;
  }
  const angle = angleOf(a, 0, b, 0, left);
  return below ? -angle : angle;
}

/** Angle of a tangent, rad, from −π/2 to π/2; error below 0.6 units of the last place. */
export function atan(x: number): number {
  const size = Math.abs(x);
  if (!(size > 1e-9)) return x;
  const angle = size > 1e100 ? HALF_PI : angleOf(size, 0, 1, 0, false);
  return x < 0 ? -angle : angle;
}

/** √(1 − x²) in two parts, left in `side`. */
const side = new Float64Array(2);
function otherSide(x: number): void {
  const square = x * x;
  const left = 1 - square;
  const leftLow = 1 - left - square - productError(x, x, square);
  const root = Math.sqrt(left);
  const p = root * root;
  side[0] = root;
  side[1] = root === 0 ? 0 : (left - p - productError(root, root, p) + leftLow) / (2 * root);
}

/** Angle of a sine, rad, from −π/2 to π/2, NaN beyond 1; error below 0.6 units of the last place. */
export function asin(x: number): number {
  const size = Math.abs(x);
  if (size < 1e-9) return x;
  if (!(size <= 1)) return NaN;
  otherSide(size);
  const angle = angleOf(size, 0, side[0], side[1], false);
  return x < 0 ? -angle : angle;
}
