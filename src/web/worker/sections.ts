/** Cuts through the solved vapour as small tables for drawing: across the bore at mid-length, and along it. */
import { CubicSpline } from "../../numerics/cubic-spline.ts";
import type { VapourField } from "../../vessel/index.ts";
import type { Field2D } from "./protocol.ts";

const ACROSS = 72;
const ALONG = { columns: 160, rows: 48 } as const;

/** Across the bore at mid-length, as one looks along the light; the corners outside the bore repeat the wall's. */
export function crossSection(field: VapourField, cells: Float64Array): Field2D {
  const { grid } = field;
  const { radial, angular, axial, radius } = grid;
  const slice = (axial >> 1) * angular * radial;
  const values = new Float32Array(ACROSS * ACROSS);
  for (let r = 0; r < ACROSS; r++) {
    const y = 1 - (2 * (r + 0.5)) / ACROSS;
    for (let c = 0; c < ACROSS; c++) {
      const x = (2 * (c + 0.5)) / ACROSS - 1;
      const distance = Math.min(1, Math.hypot(x, y));
      // Sector 0 points straight down and sectors turn toward +x.
      const sector = ((Math.atan2(y, x) + Math.PI / 2) / (2 * Math.PI)) * angular;
      values[r * ACROSS + c] = between(cells, slice, radial, angular, distance * radial - 0.5, sector);
    }
  }
  return { columns: ACROSS, rows: ACROSS, values, width: 2 * radius, height: 2 * radius };
}

/** Linear between rings and between sectors; the innermost and outermost ring reach to the axis and the wall. */
function between(
  cells: Float64Array,
  slice: number,
  radial: number,
  angular: number,
  ring: number,
  sector: number,
): number {
  const i = Math.max(0, Math.min(radial - 2, Math.floor(ring)));
  const s = Math.max(0, Math.min(1, ring - i));
  const turn = ((sector % angular) + angular) % angular;
  const j = Math.floor(turn);
  const t = turn - j;
  const next = (j + 1) % angular;
  const here = slice + j * radial + i;
  const there = slice + next * radial + i;
  const a = cells[here] * (1 - s) + cells[here + 1] * s;
  const b = cells[there] * (1 - s) + cells[there + 1] * s;
  return a * (1 - t) + b * t;
}

/** Along the bore in the plumb plane through the axis, window to window. */
export function longSection(field: VapourField, cells: Float64Array): Field2D {
  const { grid } = field;
  const { radial, angular, axial, radius, zFaces } = grid;
  const { columns, rows } = ALONG;
  const values = new Float32Array(columns * rows);
  const length = zFaces[axial] - zFaces[0];
  const centres = Float64Array.from({ length: axial }, (_, k) => (zFaces[k] + zFaces[k + 1]) / 2);
  const line = new Float64Array(axial);
  for (let r = 0; r < rows; r++) {
    const y = 1 - (2 * (r + 0.5)) / rows;
    const sector = y < 0 ? 0 : angular / 2;
    const ring = Math.abs(y) * radial - 0.5;
    for (let k = 0; k < axial; k++)
      line[k] = between(cells, k * angular * radial, radial, angular, ring, sector);
    const spline = new CubicSpline(centres, line);
    for (let c = 0; c < columns; c++) {
      const z = zFaces[0] + (length * (c + 0.5)) / columns;
      values[r * columns + c] = Math.max(
        0,
        spline.value(Math.min(centres[axial - 1], Math.max(centres[0], z))),
      );
    }
  }
  return { columns, rows, values, width: length, height: 2 * radius };
}
