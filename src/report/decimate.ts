/** A curve of any number of points, thinned to what a picture can show. */

/**
 * SVG path of y over x with at most two points per pixel column: its lowest and its highest, in the order in which they
 * come, so that a line narrower than a pixel keeps its full height. Where y is NaN the pen is lifted.
 *
 * @param x pixels, ascending
 * @param y pixels, same length
 */
export function thinnedPath(x: Float64Array, y: Float64Array): string {
  let path = "";
  let pen = "M";
  const point = (i: number): void => {
    // cut, not rounded: rounding up would move a point into the next column
    path += `${pen}${(Math.floor(100 * x[i]) / 100).toFixed(2)} ${y[i].toFixed(2)}`;
    pen = "L";
  };
  for (let i = 0; i < x.length; ) {
    if (Number.isNaN(y[i])) {
      pen = "M";
      i++;
      continue;
    }
    const column = Math.floor(x[i]);
    let low = i;
    let high = i;
    for (; i < x.length && Math.floor(x[i]) === column && !Number.isNaN(y[i]); i++) {
      if (y[i] < y[low]) low = i;
      if (y[i] > y[high]) high = i;
    }
    point(Math.min(low, high));
    if (low !== high) point(Math.max(low, high));
  }
  return path;
}
