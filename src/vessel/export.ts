/** Fields as files: comma-separated slices to look at, and NumPy's .npy array format (version 1.0) to compute with. */
import { cos, sin } from "../numerics/elementary/index.ts";
import { sectorAngle, sliceCentre } from "../numerics/polar-grid.ts";
import type { VapourField } from "./field.ts";

/** A cell array of the field by name. */
export type FieldQuantity = "density" | "gasTemperature" | "moleFraction";

/**
 * Bytes of a .npy file: magic "\x93NUMPY", version 1.0, header padded to a multiple of 64 bytes, then little-endian
 * doubles in C order. Shape (axial, angular, radial) for a field's cells.
 * Format: numpy.lib.format, NumPy Enhancement Proposal 1 (from memory; read back by numpy in the tests).
 */
export function npyBytes(values: Float64Array, shape: readonly number[]): Uint8Array {
  const count = shape.reduce((a, b) => a * b, 1);
  if (count !== values.length)
    throw new Error(`shape ${shape.join(" × ")} does not hold ${values.length} values`);
  const tuple = shape.length === 1 ? `${shape[0]},` : shape.join(", ");
  const text = `{'descr': '<f8', 'fortran_order': False, 'shape': (${tuple}), }`;
  const header = `${text}${" ".repeat((64 - ((10 + text.length + 1) % 64)) % 64)}\n`;
  const bytes = new Uint8Array(10 + header.length + 8 * values.length);
  bytes.set([0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59, 1, 0]);
  const view = new DataView(bytes.buffer);
  view.setUint16(8, header.length, true);
  for (let i = 0; i < header.length; i++) bytes[10 + i] = header.charCodeAt(i);
  const start = 10 + header.length;
  for (let i = 0; i < values.length; i++) view.setFloat64(start + 8 * i, values[i], true);
  return bytes;
}

/** A field quantity as .npy, shape (slices, sectors, rings). */
export function fieldNpy(field: VapourField, quantity: FieldQuantity): Uint8Array {
  const { radial, angular, axial } = field.size;
  return npyBytes(field[quantity], [axial, angular, radial]);
}

/**
 * The cross-section at slice k as text: one row per cell, columns x_m, y_m, gas_temperature_K, mole_fraction,
 * density_m-3. Default: the slice after mid-length.
 */
export function crossSectionCsv(field: VapourField, slice = field.grid.axial >> 1): string {
  const { grid } = field;
  const rows = ["x_m,y_m,gas_temperature_K,mole_fraction,density_m-3"];
  for (let j = 0; j < grid.angular; j++) {
    const angle = sectorAngle(grid, j);
    for (let i = 0; i < grid.radial; i++) {
      const c = (slice * grid.angular + j) * grid.radial + i;
      const r = ((i + 0.5) * grid.radius) / grid.radial;
      rows.push(row([r * cos(angle), r * sin(angle), ...local(field, c)]));
    }
  }
  return `${rows.join("\n")}\n`;
}

/** The plumb section through the axis as text: columns z_m, y_m, gas_temperature_K, mole_fraction, density_m-3. */
export function longSectionCsv(field: VapourField): string {
  const { grid } = field;
  const rows = ["z_m,y_m,gas_temperature_K,mole_fraction,density_m-3"];
  for (let k = 0; k < grid.axial; k++) {
    for (let q = 0; q < 2 * grid.radial; q++) {
      const below = q < grid.radial;
      const i = below ? grid.radial - 1 - q : q - grid.radial;
      const c = (k * grid.angular + (below ? 0 : grid.angular / 2)) * grid.radial + i;
      const r = ((i + 0.5) * grid.radius) / grid.radial;
      rows.push(row([sliceCentre(grid, k), below ? -r : r, ...local(field, c)]));
    }
  }
  return `${rows.join("\n")}\n`;
}

function local(field: VapourField, c: number): number[] {
  return [field.gasTemperature[c], field.moleFraction[c], field.density[c]];
}

function row(values: readonly number[]): string {
  return values.map((v) => String(Number(v.toPrecision(9)))).join(",");
}
