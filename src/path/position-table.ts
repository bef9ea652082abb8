/** Fast positions of many wavelengths: traced at knots, a cubic between them. */

/** Knots over the whole reach. */
const KNOTS = 2048;

export interface PositionTable {
  /** position on the sensor, m, of a wavelength, m, inside the reach */
  at(wavelength: number): number;
}

/**
 * Table of a traced map over its reach, knots even in wavenumber, Lagrange's cubic through four of them. Within three knots of either end,
 * where total reflection or a vanishing order may make the curve infinitely steep, the ray is traced instead.
 * Error below 1e-11 m for glass between 380 and 1350 nm and a 0.3 m camera lens (see the test).
 */
export function positionTable(
  trace: (wavelength: number) => number,
  shortest: number,
  longest: number,
): PositionTable {
  const first = 1 / longest;
  const step = (1 / shortest - first) / KNOTS;
  const knots = new Float64Array(KNOTS + 1).fill(NaN);
  const knot = (i: number): number => {
    // Filled on demand: a picture shows a small part of the reach.
    if (Number.isNaN(knots[i])) knots[i] = trace(1 / (first + i * step));
    return knots[i];
  };
  return {
    at(wavelength) {
      const u = (1 / wavelength - first) / step;
      const i = Math.floor(u);
      if (i < 3 || i > KNOTS - 4) return trace(wavelength);
      const t = u - i;
      const a = knot(i - 1);
      const b = knot(i);
      const c = knot(i + 1);
      const d = knot(i + 2);
      return (
        (-t * (t - 1) * (t - 2) * a) / 6 +
        ((t + 1) * (t - 1) * (t - 2) * b) / 2 -
        ((t + 1) * t * (t - 2) * c) / 2 +
        ((t + 1) * t * (t - 1) * d) / 6
      );
    },
  };
}
