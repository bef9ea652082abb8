/** Lines of equal value in a table, by marching squares: one SVG path per level. */

export interface Table {
  readonly columns: number;
  readonly rows: number;
  /** row by row, [row · columns + column] */
  readonly values: Float64Array;
}

/**
 * Path of the line where the table, linear between the middles of its boxes, has this value; box coordinates: the first
 * box spans 0 to 1, rows downward. Empty where it has none. A saddle is joined by the mean of its corners.
 */
export function contourPath({ columns, rows, values }: Table, level: number): string {
  let path = "";
  const f = (n: number): string => String(Number(n.toFixed(2)));
  for (let r = 0; r + 1 < rows; r++) {
    for (let c = 0; c + 1 < columns; c++) {
      const at = r * columns + c;
      const corner = [values[at], values[at + 1], values[at + columns + 1], values[at + columns]];
      const crossings: [number, number][] = [];
      for (let e = 0; e < 4; e++) {
        const a = corner[e];
        const b = corner[(e + 1) % 4];
        if (a >= level === b >= level) continue;
        const t = (level - a) / (b - a);
        const [x, y] = [
          [c + t, r],
          [c + 1, r + t],
          [c + 1 - t, r + 1],
          [c, r + 1 - t],
        ][e];
        crossings.push([x + 0.5, y + 0.5]);
      }
      const middle = 0.25 * (corner[0] + corner[1] + corner[2] + corner[3]);
      // Crossings go round the box; where all four edges are crossed, the first corner is cut off or joined to the middle.
      const joined = crossings.length === 4 && middle >= level === corner[0] >= level;
      const order = joined ? [0, 1, 2, 3] : [3, 0, 1, 2];
      for (let k = 0; k + 1 < crossings.length; k += 2) {
        const [p, q] = crossings.length === 4 ? [crossings[order[k]], crossings[order[k + 1]]] : crossings;
        path += `M${f(p[0])} ${f(p[1])}L${f(q[0])} ${f(q[1])}`;
      }
    }
  }
  return path;
}
