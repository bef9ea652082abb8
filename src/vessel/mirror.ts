/** Half a tube for walls that are alike on both sides of mid-length, and the whole from its half. */
import type { PolarGrid } from "../numerics/polar-grid.ts";

/** The first half of the slices; its last face is the plane of symmetry. The number of slices must be even. */
export function firstHalf(grid: PolarGrid): PolarGrid {
  const axial = grid.axial / 2;
  return { ...grid, axial, zFaces: grid.zFaces.slice(0, axial + 1) };
}

/** The whole array from its first half, slice by slice; `stride` values a slice. */
export function unfold(half: Float64Array, stride: number): Float64Array {
  const slices = half.length / stride;
  const whole = new Float64Array(2 * half.length);
  whole.set(half);
  for (let k = 0; k < slices; k++) {
    whole.set(half.subarray(k * stride, (k + 1) * stride), (2 * slices - 1 - k) * stride);
  }
  return whole;
}
