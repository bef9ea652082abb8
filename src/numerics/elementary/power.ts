/** Powers and roots, the same bits in every engine. */
import { productError, scaled } from "./doubles.ts";
import { expOfSum } from "./exp.ts";
import { logParts, parts } from "./log.ts";

const THIRD = 1 / 3;

/**
 * x to the power y, with the language's own special cases (NaN for a negative x and a y that is not whole); error below 0.65 units of the last place. Squares are x·x.
 */
export function pow(x: number, y: number): number {
  if (y === 2) return x * x;
  if (y === 0) return 1;
  if (y === 1) return x;
  if (x > 0 && x < Infinity && Math.abs(y) < Infinity) return positivePower(x, y);
  if (Number.isNaN(x) || Number.isNaN(y)) return NaN;
  const odd = Math.abs(y) < 9007199254740992 && y % 2 !== 0 && Number.isInteger(y);
  const size = Math.abs(x);
  if (Math.abs(y) === Infinity) return size === 1 ? NaN : size > 1 === y > 0 ? Infinity : 0;
  if (size === 0 || size === Infinity) {
    const magnitude = (size === 0) === y > 0 ? 0 : Infinity;
    return odd && (x < 0 || Object.is(x, -0)) ? -magnitude : magnitude;
  }
  if (!Number.isInteger(y)) return NaN;
  return odd ? -positivePower(size, y) : positivePower(size, y);
}

function positivePower(x: number, y: number): number {
  if (x === 1) return 1;
  logParts(x);
  const product = y * parts[0];
  // beyond what a double holds either way; this also keeps the halves below finite
  if (!(Math.abs(product) < 800)) return product > 0 ? Infinity : 0;
  // ln x is at least 1e-16 in size where y may be large
  return expOfSum(product, productError(y, parts[0], product) + y * parts[1]);
}

/** Cube root; error below 0.55 units of the last place. */
export function cbrt(x: number): number {
  const size = Math.abs(x);
  if (!(size > 0 && size < Infinity)) return x;
  // Near 1 the products below keep all their digits: cube roots of x·8ⁿ are n powers of two apart.
  if (size < 1e-200) return cbrt(x * 2 ** 300) / 2 ** 100;
  if (size > 1e200) return cbrt(x / 2 ** 300) * 2 ** 100;
  const y = positivePower(size, THIRD);
  const square = y * y;
  const cube = square * y;
  const over = cube - size + (productError(square, y, cube) + y * productError(y, y, square));
  const root = y - over / (3 * square);
  return x < 0 ? -root : root;
}

const LARGE = 1e150;
const SMALL = 1e-140;

/** √(x² + y² + z²) without overflow; error below 1 unit of the last place for two numbers, 1.3 for three. */
export function hypot(x: number, y: number, z = 0): number {
  const most = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
  if (most < LARGE && most > SMALL) return Math.sqrt(x * x + y * y + z * z);
  if (Math.abs(x) === Infinity || Math.abs(y) === Infinity || Math.abs(z) === Infinity) return Infinity;
  if (most === 0 || Number.isNaN(most)) return most;
  const k = most >= LARGE ? -600 : 600;
  const scale = scaled(1, k);
  return hypot(x * scale, y * scale, z * scale) * scaled(1, -k);
}
