/** sinh, cosh and asinh, the same bits in every engine. */
import { productError, scaled, sumError } from "./doubles.ts";
import { expParts, parts } from "./exp.ts";
import { log, log1p } from "./log.ts";

/** (eˣ ± e⁻ˣ)/2 of x from 0 to 40, both in two parts. */
function halfSum(x: number, sign: 1 | -1): number {
  const k = expParts(x, 0);
  const a = scaled(parts[0], k);
  const aLow = scaled(parts[1], k);
  const b = 1 / a;
  const p = b * a;
  const bLow = (1 - p - productError(b, a, p) - b * aLow) * b;
  const sum = a + sign * b;
  return 0.5 * (sum + (sumError(a, sign * b, sum) + (aLow + sign * bLow)));
}

/** e^x/2 without overflow before its time. */
function halfExp(x: number): number {
  if (!(x < 711)) return x > 0 ? Infinity : x;
  const k = expParts(x, 0);
  return scaled(parts[0], k - 1);
}

/** Hyperbolic sine; error below 0.7 units of the last place. */
export function sinh(x: number): number {
  const size = Math.abs(x);
  if (!(size > 1e-9)) return x;
  if (size < 0.7) {
    const z = x * x;
    return (
      x +
      x *
        z *
        (1 / 6 +
          z *
            (1 / 120 +
              z *
                (1 / 5040 +
                  z * (1 / 362880 + z * (1 / 39916800 + z * (1 / 6227020800 + z * (1 / 1307674368000)))))))
    );
  }
  const value = size < 40 ? halfSum(size, -1) : halfExp(size);
  return x < 0 ? -value : value;
}

/** Hyperbolic cosine; error below 0.6 units of the last place. */
export function cosh(x: number): number {
  const size = Math.abs(x);
  return size < 40 ? halfSum(size, 1) : halfExp(size);
}

/** Area hyperbolic sine; error below 2 units of the last place. */
export function asinh(x: number): number {
  const size = Math.abs(x);
  if (!(size > 1e-9)) return x;
  const value =
    size > 1e9 ? log(size) + Math.LN2 : log1p(size + (size * size) / (1 + Math.sqrt(1 + size * size)));
  return x < 0 ? -value : value;
}
