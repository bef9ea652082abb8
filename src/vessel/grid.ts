/** The grid of a tube: how finely, and where the slices lie. */
import { atan } from "../numerics/elementary/index.ts";
import { halvingCount, type PolarGrid } from "../numerics/polar-grid.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { GridSize, VesselInput } from "./api.ts";

type TubeLengths = Pick<VesselInput, "bore" | "heatedLength" | "length">;

/** Grid of a forecast. */
export const DEFAULT_GRID: GridSize = { radial: 24, angular: 32, axial: 32 };
/** Grid of an answer while a control is dragged. */
export const COARSE_GRID: GridSize = { radial: 12, angular: 16, axial: 16 };

/** The next larger size whose counts can be halved down to a handful: what `solveVapour` really uses. */
export function gridSize(wish: GridSize): GridSize {
  check("radial", wish.radial, 4, 512);
  check("angular", wish.angular, 8, 1024);
  check("axial", wish.axial, 4, 2048);
  return {
    radial: halvingCount(wish.radial),
    angular: halvingCount(wish.angular),
    axial: halvingCount(wish.axial),
  };
}

function check(field: string, value: number, low: number, high: number): void {
  if (Number.isInteger(value) && value >= low && value <= high) return;
  throw new Refusal({
    code: "grid-size",
    field: `grid.${field}`,
    received: String(value),
    expected: `a whole number from ${low} to ${high}`,
  });
}

/**
 * Rings of equal thickness, sectors of equal angle, slices that crowd around the two ends of the heated length, where
 * the wall changes: their density is 1 + A Σ 1/(1 + t²), t the distance from such an end in bore diameters, with A so
 * that a third of the slices belong to the two crowds in a long tube. Smooth in every length, mirror-symmetric in z.
 */
export function tubeGrid(input: TubeLengths, size: GridSize): PolarGrid {
  const n = size.axial;
  const half = 0.5 * input.length;
  const edge = 0.5 * input.heatedLength;
  const scale = input.bore;
  const strength = input.length / (4 * Math.PI * scale);
  const count = (z: number): number =>
    z + strength * scale * (atan((z - edge) / scale) + atan((z + edge) / scale));
  const total = count(half);
  const zFaces = new Float64Array(n + 1);
  for (let k = 0; k <= n / 2; k++) {
    const target = -total * (1 - (2 * k) / n);
    let low = -half;
    let high = 0;
    for (let step = 0; step < 60; step++) {
      const middle = 0.5 * (low + high);
      if (count(middle) < target) low = middle;
      else high = middle;
    }
    const z = k === 0 ? -half : 2 * k === n ? 0 : 0.5 * (low + high);
    zFaces[k] = z;
    zFaces[n - k] = -z;
  }
  return { radial: size.radial, angular: size.angular, axial: n, radius: 0.5 * input.bore, zFaces };
}
