/** The solved vapour as a medium for rays: densities of metal and gas at any place in the bore, with slopes that do not jump. */
import { atan2, hypot } from "../numerics/elementary/index.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { VapourField } from "../vessel/index.ts";
import type { IndexMedium } from "./eikonal.ts";

/** A density on a Cartesian grid, [(k · count + row) · count + column], read by Keys' cubic in x and y and in z. */
interface Block {
  readonly values: Float64Array;
  readonly count: number;
  readonly slices: number;
}

/** Densities of a solved tube, resampled once; many wavelengths can then be traced through it. */
export interface VapourMedium {
  readonly radius: number;
  /** window to window, m: z from −length/2 to length/2 about the middle of the tube */
  readonly start: number;
  readonly end: number;
  /**
   * Medium for light with the given refractivity per atom.
   * @param metal (n−1)/N of the vapour, m³
   * @param gas (n−1)/N of the buffer gas, m³
   */
  at(metal: number, gas: number): IndexMedium;
}

/**
 * Resamples the field (x right, y up, z along the light, origin as the field's) on squares of one ring's thickness. Beyond the wall the wall's own value goes on,
 * so that slopes near it stay finite. Accuracy that of the field's grid: slopes on the axis agree with the field's columns to about 1 %.
 */
export function vapourMedium(field: VapourField): VapourMedium {
  const { grid } = field;
  const spacing = grid.radius / grid.radial;
  const count = 2 * (grid.radial + 2) + 1;
  const gas = field.density.map(
    (_, i) => ((1 - field.moleFraction[i]) * field.pressure) / (BOLTZMANN * field.gasTemperature[i]),
  );
  const gasWall = field.wallDensity.map(
    (_, i) => ((1 - field.wallMoleFraction[i]) * field.pressure) / (BOLTZMANN * field.wallTemperature[i]),
  );
  const metal = resampled(field, field.density, field.wallDensity, count, spacing);
  const rest = resampled(field, gas, gasWall, count, spacing);
  const centres = Float64Array.from(
    { length: grid.axial },
    (_, k) => (grid.zFaces[k] + grid.zFaces[k + 1]) / 2,
  );
  return {
    radius: grid.radius,
    start: grid.zFaces[0],
    end: grid.zFaces[grid.axial],
    at: (metalRefractivity, gasRefractivity) => {
      const a = new Float64Array(4);
      const b = new Float64Array(4);
      return {
        excess(at, slope) {
          read(metal, centres, spacing, at, a);
          read(rest, centres, spacing, at, b);
          const excess = metalRefractivity * a[0] + gasRefractivity * b[0];
          for (let i = 0; i < 3; i++) {
            slope[i] = (1 + excess) * (metalRefractivity * a[1 + i] + gasRefractivity * b[1 + i]);
          }
          return excess * (2 + excess);
        },
      };
    },
  };
}

function resampled(
  field: VapourField,
  cells: Float64Array,
  wall: Float64Array,
  count: number,
  spacing: number,
): Block {
  const { grid } = field;
  const values = new Float64Array(grid.axial * count * count);
  const half = (count - 1) / 2;
  const sector = (2 * Math.PI) / grid.angular;
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      const x = (column - half) * spacing;
      const y = (row - half) * spacing;
      const ring = hypot(x, y) / spacing - 0.5;
      const turn = (atan2(y, x) + Math.PI / 2) / sector;
      const j0 = Math.floor(turn);
      const share = turn - j0;
      for (let k = 0; k < grid.axial; k++) {
        const a = alongRadius(grid, cells, wall, k, j0, ring);
        const b = alongRadius(grid, cells, wall, k, j0 + 1, ring);
        values[(k * count + row) * count + column] = a + (b - a) * share;
      }
    }
  }
  return { values, count, slices: grid.axial };
}

/** Value on the ray of sector j at `ring` (0 = middle of the innermost), across the axis into the facing sector. */
function alongRadius(
  grid: VapourField["grid"],
  cells: Float64Array,
  wall: Float64Array,
  k: number,
  sector: number,
  ring: number,
): number {
  const { radial, angular } = grid;
  const j = ((sector % angular) + angular) % angular;
  const at = (k * angular + j) * radial;
  if (ring >= radial - 1) {
    // Last ring's middle to the wall is half a ring.
    const share = Math.min(1, (ring - (radial - 1)) * 2);
    return cells[at + radial - 1] * (1 - share) + wall[k * angular + j] * share;
  }
  if (ring < 0) {
    const facing = (k * angular + ((j + angular / 2) % angular)) * radial;
    return cells[at] * (1 + ring) - cells[facing] * ring;
  }
  const i = Math.floor(ring);
  return cells[at + i] * (1 - (ring - i)) + cells[at + i + 1] * (ring - i);
}

const wx = new Float64Array(8);
const wy = new Float64Array(8);
const wz = new Float64Array(8);

/** Value and slopes (x, y, z) of a block at a place, into out[0…3]. */
function read(
  block: Block,
  centres: Float64Array,
  spacing: number,
  at: Float64Array,
  out: Float64Array,
): void {
  const { values, count, slices } = block;
  const half = (count - 1) / 2;
  const column = cell(at[0] / spacing + half, count, wx);
  const row = cell(at[1] / spacing + half, count, wy);
  let k = 0;
  while (k < slices - 2 && centres[k + 1] <= at[2]) k++;
  const gap = centres[k + 1] - centres[k];
  const slice = cell(Math.min(slices - 1, Math.max(0, k + (at[2] - centres[k]) / gap)), slices, wz);
  let value = 0;
  let dx = 0;
  let dy = 0;
  let dz = 0;
  for (let c = 0; c < 4; c++) {
    const z = Math.min(slices - 1, Math.max(0, slice + c - 1));
    for (let b = 0; b < 4; b++) {
      const y = Math.min(count - 1, Math.max(0, row + b - 1));
      const base = (z * count + y) * count;
      let line = 0;
      let lineSlope = 0;
      for (let a = 0; a < 4; a++) {
        const v = values[base + Math.min(count - 1, Math.max(0, column + a - 1))];
        line += wx[a] * v;
        lineSlope += wx[4 + a] * v;
      }
      value += wz[c] * wy[b] * line;
      dx += wz[c] * wy[b] * lineSlope;
      dy += wz[c] * wy[4 + b] * line;
      dz += wz[4 + c] * wy[b] * line;
    }
  }
  out[0] = value;
  out[1] = dx / spacing;
  out[2] = dy / spacing;
  out[3] = dz / gap;
}

/** Keys' weights (0…3) and their slopes (4…7) for a place between nodes; returns the node below. */
function cell(place: number, count: number, w: Float64Array): number {
  const i = Math.min(count - 2, Math.max(0, Math.floor(place)));
  const t = place - i;
  w[0] = t * (-0.5 + t * (1 - 0.5 * t));
  w[1] = 1 + t * t * (-2.5 + 1.5 * t);
  w[2] = t * (0.5 + t * (2 - 1.5 * t));
  w[3] = t * t * (-0.5 + 0.5 * t);
  w[4] = -0.5 + t * (2 - 1.5 * t);
  w[5] = t * (-5 + 4.5 * t);
  w[6] = 0.5 + t * (4 - 4.5 * t);
  w[7] = t * (-1 + 1.5 * t);
  return i;
}
