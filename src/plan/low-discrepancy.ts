/** Points that fill the unit cube evenly, any one of them by its number alone. */

/**
 * Primitive polynomials and first direction numbers of dimensions 2 to 10: S. Joe and F. Y. Kuo, "Constructing Sobol
 * sequences with better two-dimensional projections", SIAM J. Sci. Comput. 30 (2008) 2635, set D(6).
 */
const SOBOL: readonly {
  readonly degree: number;
  readonly inner: number;
  readonly first: readonly number[];
}[] = [
  { degree: 1, inner: 0, first: [1] },
  { degree: 2, inner: 1, first: [1, 3] },
  { degree: 3, inner: 1, first: [1, 3, 1] },
  { degree: 3, inner: 2, first: [1, 1, 1] },
  { degree: 4, inner: 1, first: [1, 1, 3, 3] },
  { degree: 4, inner: 4, first: [1, 3, 5, 13] },
  { degree: 5, inner: 2, first: [1, 1, 5, 5, 17] },
  { degree: 5, inner: 4, first: [1, 1, 5, 5, 5] },
  { degree: 5, inner: 7, first: [1, 1, 7, 11, 19] },
];

const BITS = 32;

/** Most dimensions that `sobolPoint` serves. */
export const SOBOL_DIMENSIONS = SOBOL.length + 1;

function directions(dimension: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let k = 0; k < BITS; k++) v[k] = 2 ** (BITS - 1 - k);
    return v;
  }
  const { degree, inner, first } = SOBOL[dimension - 1];
  for (let k = 0; k < BITS; k++) {
    if (k < degree) {
      v[k] = first[k] * 2 ** (BITS - 1 - k);
      continue;
    }
    let bits = v[k - degree] ^ (v[k - degree] >>> degree);
    for (let j = 1; j < degree; j++) if ((inner >>> (degree - 1 - j)) & 1) bits ^= v[k - j];
    v[k] = bits;
  }
  return v;
}

const DIRECTIONS: readonly Uint32Array[] = Array.from({ length: SOBOL_DIMENSIONS }, (_, d) => directions(d));

/**
 * Point `index` (0, 1, 2 …, below 2³²) of Sobol's sequence in Gray-code order (Antonov and Saleev); point 0 is the
 * origin. Each power of two of points from the start fills every dyadic interval once.
 * @param dimensions 1 to 10
 * @returns coordinates in [0, 1)
 */
export function sobolPoint(index: number, dimensions: number): Float64Array {
  if (!(dimensions >= 1 && dimensions <= SOBOL_DIMENSIONS))
    throw new Error(`sobolPoint: ${dimensions} dimensions, expected 1 to ${SOBOL_DIMENSIONS}`);
  const gray = (index ^ (index >>> 1)) >>> 0;
  const point = new Float64Array(dimensions);
  for (let d = 0; d < dimensions; d++) {
    let bits = 0;
    for (let k = 0; k < BITS && gray >>> k !== 0; k++) if ((gray >>> k) & 1) bits ^= DIRECTIONS[d][k];
    point[d] = (bits >>> 0) / 2 ** BITS;
  }
  return point;
}

/**
 * Point `index` of the additive recurrence with the generalised golden ratio: x_d = frac(½ + index·φ^−(d+1)), φ the
 * positive root of φ^(D+1) = φ + 1. Source: M. Roberts, "The unreasonable effectiveness of quasirandom sequences" (2018).
 * @param dimensions 1 or more
 */
export function r2Point(index: number, dimensions: number): Float64Array {
  let phi = 2;
  for (let k = 0; k < 60; k++) phi = (1 + phi) ** (1 / (dimensions + 1));
  return Float64Array.from({ length: dimensions }, (_, d) => (0.5 + index * phi ** -(d + 1)) % 1);
}
