/** sin, cos and tan, the same bits in every engine. */
import { productError } from "./doubles.ts";
import { rest, turnsOf } from "./quarter-turns.ts";

const QUARTER = Math.PI / 4;

/** Power series of (sin y − y)/y³ to y¹⁴, z = y². */
function sineTail(z: number): number {
  const w = z * z;
  return (
    -1 / 6 +
    w * (-1 / 5040 + w * (-1 / 39916800 + w * (-1 / 1307674368000))) +
    z * (1 / 120 + w * (1 / 362880 + w * (1 / 6227020800 + w * (1 / 355687428096000))))
  );
}

/** Power series of (cos y − 1 + y²/2)/y⁴ to y¹⁴, z = y². */
function cosineTail(z: number): number {
  const w = z * z;
  return (
    1 / 24 +
    w * (1 / 40320 + w * (1 / 479001600 + w * (1 / 20922789888000))) +
    z * (-1 / 720 + w * (-1 / 3628800 + w * (-1 / 87178291200 + w * (-1 / 6402373705728000))))
  );
}

/** sin(y + low) for |y| ≤ π/4. */
function sine(y: number, low: number): number {
  const z = y * y;
  return y + (y * z * sineTail(z) + low * (1 - 0.5 * z));
}

/** cos(y + low) for |y| ≤ π/4. */
function cosine(y: number, low: number): number {
  const z = y * y;
  const half = 0.5 * z;
  const head = 1 - half;
  return head + (1 - head - half + (z * z * cosineTail(z) - y * low));
}

/** sin x, x in rad; error below 0.8 units of the last place. */
export function sin(x: number): number {
  if (Math.abs(x) <= QUARTER) return Math.abs(x) < 1e-8 ? x : sine(x, 0);
  const turns = turnsOf(x);
  const y = rest[0];
  const low = rest[1];
  const size = turns & 1 ? cosine(y, low) : sine(y, low);
  return turns & 2 ? -size : size;
}

/** cos x, x in rad; error below 0.9 units of the last place. */
export function cos(x: number): number {
  if (Math.abs(x) <= QUARTER) return cosine(x, 0);
  const turns = turnsOf(x);
  const y = rest[0];
  const low = rest[1];
  const size = turns & 1 ? sine(y, low) : cosine(y, low);
  return (turns + 1) & 2 ? -size : size;
}

/** tan x, x in rad, as sine by cosine, each in two parts; error below 0.7 units of the last place. */
export function tan(x: number): number {
  if (Math.abs(x) < 1e-8) return x;
  let turns = 0;
  let y = x;
  let low = 0;
  if (Math.abs(x) > QUARTER) {
    turns = turnsOf(x);
    y = rest[0];
    low = rest[1];
  }
  const z = y * y;
  const zLow = productError(y, y, z) + 2 * y * low;
  const tail = y * z * sineTail(z) + low * (1 - 0.5 * z);
  const s = y + tail;
  const sLow = tail - (s - y);
  const half = 0.5 * z;
  const head = 1 - half;
  const fall = 1 - head - half + (z * z * cosineTail(z) - 0.5 * zLow);
  const c = head + fall;
  const cLow = fall - (c - head);
  return turns & 1 ? -quotient(c, cLow, s, sLow) : quotient(s, sLow, c, cLow);
}

function quotient(a: number, aLow: number, b: number, bLow: number): number {
  const q = a / b;
  const p = q * b;
  return q + (a - p - productError(q, b, p) + (aLow - q * bLow)) / b;
}
