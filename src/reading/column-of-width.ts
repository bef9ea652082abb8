/** The curve of growth read backwards. */

/** Columns tried, m⁻². */
const [THINNEST, DENSEST] = [1e12, 1e24];

/** Column density whose equivalent width is the measured one, by halving its logarithm. */
export function columnOf(widthOf: (column: number) => number, width: number): number {
  let [low, high] = [Math.log(THINNEST), Math.log(DENSEST)];
  for (let pass = 0; pass < 36; pass++) {
    const middle = (low + high) / 2;
    if (widthOf(Math.exp(middle)) < width) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}
