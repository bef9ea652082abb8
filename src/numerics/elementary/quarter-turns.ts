/** An angle as whole quarter turns and a rest: the step before sine, cosine and tangent. */
import { productError, scaled, sumError } from "./doubles.ts";

const PER_QUARTER = 0.6366197723675814;
/** π/2 in parts of 33 bits, so that their multiples by whole numbers below 2²⁰ are exact, and what is left. */
const A = 1.5707963267341256;
const B = 6.077100506303966e-11;
const C = 2.0222662487111665e-21;
const D = 8.4784276603689e-32;
const MOST_TURNS = 1048576;

/** Rest of the last `turnsOf` in two parts, rad, at most π/4 in size. */
export const rest = new Float64Array(2);

/** @returns whole quarter turns of x, rad, modulo 4 at least; NaN in `rest` where x is no finite number */
export function turnsOf(x: number): number {
  const turns = Math.floor(x * PER_QUARTER + 0.5);
  if (!(Math.abs(turns) < MOST_TURNS)) return turnsOfLarge(x);
  const a = x - turns * A;
  const b = -turns * B;
  const first = a + b;
  const firstLow = sumError(a, b, first);
  const c = -turns * C;
  const second = first + c;
  const low = firstLow + (sumError(first, c, second) - turns * D);
  rest[0] = second + low;
  rest[1] = low - (rest[0] - second);
  return turns;
}

/** 2/π·2¹²⁰⁰, cut off. */
const PER_QUARTER_LONG =
  0xa2f9836e4e441529fc2757d1f534ddc0db6295993c439041fe5163abdebbc561b7246e3a424dd2e006492eea09d1921cfe1deb1cb129a73ee88235f52ebb4484e99c7026b45f7e413991d639835339f49c845f8bbdf9283b1ff897ffde05980fef2f118b5a0a6d1f6d367ecf27cb09b74f463f669e5fea2d7527bac7ebe5f17b3d0739f78a5292ea6bfb5fb11f8d5d0856033046fc7bn;
const BITS = 1200n;
/** π/2 in two parts. */
const HALF_PI = 1.5707963267948966;
const HALF_PI_LOW = 6.123233995736766e-17;

/** The same of any double, in whole numbers of many digits: a hundred times slower. */
function turnsOfLarge(x: number): number {
  if (!(Math.abs(x) < Infinity)) {
    rest[0] = NaN;
    rest[1] = NaN;
    return 0;
  }
  // |x| is far above 2²⁰: scaled down by a power of two it is still a double, and a whole number of some 2⁻³²
  let whole = Math.abs(x);
  let shift = 32n;
  while (whole >= 2 ** 60) {
    whole /= 2;
    shift -= 1n;
  }
  // turns·2^BITS·2^(32 − shift …): all digits below 2^(BITS + shift) are the fraction
  const product = BigInt(whole * 2 ** 32) * PER_QUARTER_LONG;
  const one = BITS + shift;
  let turns = product >> one;
  let part = product - (turns << one);
  if (part >> (one - 1n) === 1n) {
    turns += 1n;
    part -= 1n << one;
  }
  // 106 digits of the fraction are kept, from wherever they begin
  const size = part < 0n ? -part : part;
  const drop = size.toString(2).length - 106;
  const kept = drop > 0 ? size >> BigInt(drop) : size;
  const top = Number(kept >> 53n) * 2 ** 53;
  const scale = scaled(1, Math.max(drop, 0) - Number(one));
  const sign = x < 0 !== part < 0n ? -1 : 1;
  const high = sign * top * scale;
  const low = sign * Number(kept - BigInt(top)) * scale;
  const angle = high * HALF_PI;
  const angleLow = productError(high, HALF_PI, angle) + low * HALF_PI + high * HALF_PI_LOW;
  rest[0] = angle + angleLow;
  rest[1] = angleLow - (rest[0] - angle);
  return x < 0 ? -Number(turns & 3n) : Number(turns & 3n);
}
