/**
 * Between the frame and the instrument's own axes: U runs along the spectrum (pixels from the middle, longer columns to
 * the right), v upward along the plumb slit's image. The camera's roll turns both; line curvature bends U.
 *
 *   x = column − columns/2, y = rows/2 − row
 *   u = x cos ρ + y sin ρ,  v = −x sin ρ + y cos ρ,  U = u − smile·v²
 */
export interface Geometry {
  readonly columns: number;
  readonly rows: number;
  /** ρ, rad, positive raises the right end of the picture */
  readonly roll: number;
  /** 1/pixel */
  readonly smile: number;
}

/** v of the place where the line U crosses a row (row coordinate from the top edge). */
export function heightOnRow(g: Geometry, along: number, row: number): number {
  const y = g.rows / 2 - row;
  const c = Math.cos(g.roll);
  const t = Math.tan(g.roll);
  // v = y/cos ρ − u·tan ρ with u = U + smile·v²; the bend is small, so two passes settle it.
  let v = y / c - along * t;
  v = y / c - (along + g.smile * v * v) * t;
  return y / c - (along + g.smile * v * v) * t;
}

/** Column coordinate where the line U crosses a row. */
export function columnOnRow(g: Geometry, along: number, row: number): number {
  const v = heightOnRow(g, along, row);
  const u = along + g.smile * v * v;
  return g.columns / 2 + u * Math.cos(g.roll) - v * Math.sin(g.roll);
}

/** What `alongAt` needs of a geometry, worked out once for all places. */
export interface Turned {
  readonly halfColumns: number;
  readonly halfRows: number;
  readonly smile: number;
  /** sine and cosine of the roll */
  readonly s: number;
  readonly c: number;
}

export function turnedBy({ columns, rows, roll, smile }: Geometry): Turned {
  return { halfColumns: columns / 2, halfRows: rows / 2, smile, s: Math.sin(roll), c: Math.cos(roll) };
}

/** U of any place in the frame. No function made for each picture: the engine would compile its callers anew every time. */
export function alongAt({ halfColumns, halfRows, smile, s, c }: Turned, column: number, row: number): number {
  const x = column - halfColumns;
  const y = halfRows - row;
  const v = -x * s + y * c;
  return x * c + y * s - smile * v * v;
}

/** Row coordinate of the point (U, v). */
export function rowOf(g: Geometry, along: number, v: number): number {
  const u = along + g.smile * v * v;
  return g.rows / 2 - (u * Math.sin(g.roll) + v * Math.cos(g.roll));
}

/** Column coordinate of the point (U, v). */
export function columnOf(g: Geometry, along: number, v: number): number {
  const u = along + g.smile * v * v;
  return g.columns / 2 + u * Math.cos(g.roll) - v * Math.sin(g.roll);
}
