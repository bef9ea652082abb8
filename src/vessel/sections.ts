/** Cuts through a solved vessel as tables to draw: across the bore, along it, the wall unrolled, the profile on the beam. */
import { atan2, hypot } from "../numerics/elementary/index.ts";
import { CubicSpline } from "../numerics/cubic-spline.ts";
import { sliceCentre } from "../numerics/polar-grid.ts";
import { chordValues, plumbChord } from "./chord.ts";
import { supersaturationAt } from "./columns.ts";
import type { VapourField } from "./field.ts";
import { faceMeans } from "./wall.ts";

/** Cell quantities: m⁻³, K, 1, and p_metal/p_sat(T) of the gas there, 1. */
export type SectionQuantity = "density" | "gasTemperature" | "moleFraction" | "supersaturation";

/** Values on the middles of rows × columns equal boxes, row by row from the top, [row · columns + column]. */
export interface SectionTable {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float64Array;
  /** m across all columns, and across all rows (an angle in rad for the unrolled wall) */
  readonly width: number;
  readonly height: number;
}

/** Supersaturation p_metal/p_sat(T) in every cell, in the layout of `field.density`; 0 where there is no metal. */
export function supersaturationField(field: VapourField): Float64Array {
  return field.moleFraction.map((x, c) => supersaturationAt(field, x, field.gasTemperature[c]));
}

function cellsOf(field: VapourField, quantity: SectionQuantity): Float64Array {
  return quantity === "supersaturation" ? supersaturationField(field) : field[quantity];
}

/**
 * Across the bore, as one looks along the light, `side` boxes each way (4 to 2000, default 96), at slice `slice`
 * (default the one after mid-length). Outside the bore the table repeats the nearest ring: cut it round when drawing.
 * Linear between rings and sectors.
 */
export function crossSection(
  field: VapourField,
  quantity: SectionQuantity,
  side = 96,
  slice = field.grid.axial >> 1,
): SectionTable {
  const { radial, angular, radius } = field.grid;
  const cells = cellsOf(field, quantity);
  const values = new Float64Array(side * side);
  for (let r = 0; r < side; r++) {
    const y = 1 - (2 * (r + 0.5)) / side;
    for (let c = 0; c < side; c++) {
      const x = (2 * (c + 0.5)) / side - 1;
      const ring = Math.min(1, hypot(x, y)) * radial - 0.5;
      const sector = ((atan2(y, x) + 0.5 * Math.PI) / (2 * Math.PI)) * angular;
      values[r * side + c] = between(cells, slice * angular * radial, radial, angular, ring, sector);
    }
  }
  return { columns: side, rows: side, values, width: 2 * radius, height: 2 * radius };
}

/** Along the bore in the plumb plane through the axis, window to window; linear in height, linear in length. */
export function longSection(
  field: VapourField,
  quantity: SectionQuantity,
  columns = 160,
  rows = 48,
): SectionTable {
  const { radial, angular, axial, radius, zFaces } = field.grid;
  const cells = cellsOf(field, quantity);
  const values = new Float64Array(columns * rows);
  const line = new Float64Array(axial);
  for (let r = 0; r < rows; r++) {
    const y = 1 - (2 * (r + 0.5)) / rows;
    for (let k = 0; k < axial; k++)
      line[k] = between(
        cells,
        k * angular * radial,
        radial,
        angular,
        Math.abs(y) * radial - 0.5,
        y < 0 ? 0 : angular / 2,
      );
    alongLength(field, line, columns, values.subarray(r * columns, (r + 1) * columns));
  }
  return { columns, rows, values, width: zFaces[axial] - zFaces[0], height: 2 * radius };
}

/**
 * Wall temperature, K, unrolled: columns along the tube, rows around it, the top of the tube at upper and lower edge,
 * the bottom in the middle row. `height` is 2π.
 */
export function wallTable(field: VapourField, columns = 160, rows = 72): SectionTable {
  const { angular, axial, zFaces } = field.grid;
  const faces = new Float64Array(angular * axial);
  faceMeans(field.wall, faces, (t) => t);
  const values = new Float64Array(columns * rows);
  const line = new Float64Array(axial);
  for (let r = 0; r < rows; r++) {
    // Sector 0 is the bottom: the middle row.
    const turn = ((((r + 0.5) / rows - 0.5) % 1) + 1) % 1;
    const at = turn * angular;
    const j = Math.floor(at);
    const t = at - j;
    for (let k = 0; k < axial; k++)
      line[k] = faces[k * angular + (j % angular)] * (1 - t) + faces[k * angular + ((j + 1) % angular)] * t;
    alongLength(field, line, columns, values.subarray(r * columns, (r + 1) * columns));
  }
  return { columns, rows, values, width: zFaces[axial] - zFaces[0], height: 2 * Math.PI };
}

/** Linear between the middles of slices, held beyond the outermost. */
function alongLength(field: VapourField, line: Float64Array, columns: number, out: Float64Array): void {
  const { grid } = field;
  const length = grid.zFaces[grid.axial] - grid.zFaces[0];
  let k = 0;
  for (let c = 0; c < columns; c++) {
    const z = grid.zFaces[0] + (length * (c + 0.5)) / columns;
    while (k < grid.axial - 2 && sliceCentre(grid, k + 1) < z) k++;
    const a = sliceCentre(grid, k);
    const t = Math.min(1, Math.max(0, (z - a) / (sliceCentre(grid, k + 1) - a)));
    out[c] = line[k] * (1 - t) + line[k + 1] * t;
  }
}

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
  const j = Math.floor(turn) % angular;
  const t = turn - Math.floor(turn);
  const here = slice + j * radial + i;
  const there = slice + ((j + 1) % angular) * radial + i;
  return (
    (cells[here] * (1 - s) + cells[here + 1] * s) * (1 - t) +
    (cells[there] * (1 - s) + cells[there + 1] * s) * t
  );
}

/** What the light meets on its way, one entry per slice; z in m from mid-length. */
export interface BeamProfile {
  readonly z: Float64Array;
  /** m⁻³ */
  readonly density: Float64Array;
  /** ∂N/∂y, m⁻⁴ */
  readonly densityGradient: Float64Array;
  /** K */
  readonly gasTemperature: Float64Array;
  /** p_metal/p_sat(T), 1 */
  readonly supersaturation: Float64Array;
}

/** Profile along a straight ray at a height in m above the axis, by a cubic spline over each slice's plumb line. */
export function beamProfile(field: VapourField, height = 0): BeamProfile {
  const { grid } = field;
  const chord = plumbChord(grid, 0);
  const nodes = new Float64Array(chord.y.length);
  const make = (): Float64Array => new Float64Array(grid.axial);
  const out = {
    z: make(),
    density: make(),
    densityGradient: make(),
    gasTemperature: make(),
    supersaturation: make(),
  };
  for (let k = 0; k < grid.axial; k++) {
    const spline = (cells: Float64Array, wall: Float64Array): CubicSpline => {
      chordValues(grid, chord, k, cells, wall, nodes);
      return new CubicSpline(chord.y, nodes.slice());
    };
    const density = spline(field.density, field.wallDensity);
    const fraction = spline(field.moleFraction, field.wallMoleFraction).value(height);
    out.z[k] = sliceCentre(grid, k);
    out.density[k] = Math.max(0, density.value(height));
    out.densityGradient[k] = density.derivative(height);
    out.gasTemperature[k] = spline(field.gasTemperature, field.wallTemperature).value(height);
    out.supersaturation[k] = supersaturationAt(field, Math.max(0, fraction), out.gasTemperature[k]);
  }
  return out;
}
