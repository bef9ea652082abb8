/**
 * The round bore cut into cells: rings in radius, equal sectors in angle, slices in length.
 *
 * Layout of every cell array: index = (k · angular + j) · radial + i, with i the ring from the axis outward, j the
 * sector and k the slice. Rings are equally thick, centres at (i + ½) h with h = radius / radial: the innermost face
 * has no area, so the axis is no special place. Sector j is centred on φ = −π/2 + j Δφ: sector 0 points straight down,
 * sector angular/2 straight up, and sectors angular/2 apart face each other across the axis (angular is even).
 */
export interface PolarGrid {
  /** rings, ≥ 2 */
  readonly radial: number;
  /** sectors, even, ≥ 4 */
  readonly angular: number;
  /** slices, ≥ 2 */
  readonly axial: number;
  /** radius of the bore, m */
  readonly radius: number;
  /** faces of the slices, m, ascending, length axial + 1 */
  readonly zFaces: Float64Array;
}

export function cellCount(grid: PolarGrid): number {
  return grid.radial * grid.angular * grid.axial;
}

/** Middle of slice k, m. */
export function sliceCentre(grid: PolarGrid, k: number): number {
  return 0.5 * (grid.zFaces[k] + grid.zFaces[k + 1]);
}

/** Angle of the middle of sector j, rad, counted from +x toward +y. */
export function sectorAngle(grid: PolarGrid, j: number): number {
  return -0.5 * Math.PI + (2 * Math.PI * j) / grid.angular;
}

/** Volume of a cell of ring i in slice k, m³. */
export function cellVolume(grid: PolarGrid, i: number, k: number): number {
  const h = grid.radius / grid.radial;
  return (i + 0.5) * h * h * ((2 * Math.PI) / grid.angular) * (grid.zFaces[k + 1] - grid.zFaces[k]);
}

/** n + 1 equally spaced faces from a to b. */
export function uniformFaces(a: number, b: number, n: number): Float64Array {
  const faces = new Float64Array(n + 1);
  for (let k = 0; k <= n; k++) faces[k] = a + ((b - a) * k) / n;
  return faces;
}

/**
 * The least number ≥ n of the form m · 2^s with m ≤ 4 (m even allowed): such counts can be halved down to a grid small
 * enough for a direct solution.
 */
export function halvingCount(n: number): number {
  let step = 1;
  while (Math.ceil(n / step) > 4) step *= 2;
  return Math.ceil(n / step) * step;
}
