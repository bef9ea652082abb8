/** Conductances of the faces of a polar grid for ∇·(κ ∇u) = 0, and the boundary values' part of the right-hand side. */
import { pow, sin } from "./elementary/index.ts";
import type { Level } from "./multigrid-level.ts";
import type { PolarGrid } from "./polar-grid.ts";

/** Boundary of the bore. Wall arrays are [k · angular + j], end arrays [j · radial + i]. */
export interface PolarBoundary {
  /** value of u held on the wall, or behind it where `wallDepth` says so */
  readonly wall: Float64Array;
  /** how far behind the wall the value is held, m: 0 on the wall itself, Infinity where no flux passes; left out, 0 */
  readonly wallDepth?: Float64Array;
  /** held values on the first and last end face, or undefined where that end is closed */
  readonly ends: readonly [Float64Array | undefined, Float64Array | undefined];
}

/**
 * Fills cr, cp, cz and f of the finest level. Fluxes between cell middles, κ at a face the mean of both sides, to a
 * boundary over half a cell and the depth behind it: conservative, of second order, and without negative coefficients, so that u stays within
 * its boundary values. `kappa` is κ in the cells (undefined: 1 everywhere), `wallKappa` on the wall.
 */
export function assemble(
  level: Level,
  grid: PolarGrid,
  boundary: PolarBoundary,
  kappa?: Float64Array,
  wallKappa?: Float64Array,
): void {
  const { radial, angular, axial, radius, zFaces } = grid;
  const { cr, cp, cz, f } = level;
  const plane = radial * angular;
  const h = radius / radial;
  const sector = (2 * Math.PI) / angular;
  f.fill(0);
  for (let k = 0; k < axial; k++) {
    const thickness = zFaces[k + 1] - zFaces[k];
    const acrossRings = sector * thickness; // area r·sector·thickness over distance h, with r = (i + 1) h
    // Area h·thickness over distance r·sector, r = (i + ½) h, times (s/sin s)², s = sector/2: with this factor, which
    // tends to 1 with the second power of the sector, fields that are linear in x and y are solved exactly.
    const acrossSectors = (thickness / sector) * pow((0.5 * sector) / sin(0.5 * sector), 2);
    for (let j = 0; j < angular; j++) {
      const line = k * plane + j * radial;
      const after = j === angular - 1 ? k * plane : line + radial;
      const wall = k * angular + j;
      for (let i = 0; i < radial; i++) {
        const c = line + i;
        const own = kappa === undefined ? 1 : kappa[c];
        if (i < radial - 1)
          cr[c] = (i + 1) * acrossRings * (kappa === undefined ? 1 : 0.5 * (own + kappa[c + 1]));
        cp[c] = (acrossSectors / (i + 0.5)) * (kappa === undefined ? 1 : 0.5 * (own + kappa[after + i]));
      }
      const c = line + radial - 1;
      const own = kappa === undefined ? 1 : kappa[c];
      const face = wallKappa === undefined ? own : 0.5 * (own + wallKappa[wall]);
      const depth = boundary.wallDepth?.[wall] ?? 0;
      cr[c] = (2 * radial * acrossRings * face) / (1 + (2 * depth) / h);
      f[c] += cr[c] * boundary.wall[wall];
    }
  }
  for (let k = 1; k < axial; k++) {
    const scale = (h * h * sector) / (0.5 * (zFaces[k + 1] - zFaces[k - 1]));
    for (let j = 0; j < angular; j++) {
      const line = k * plane + j * radial;
      for (let i = 0; i < radial; i++) {
        const c = line + i;
        cz[c] = (i + 0.5) * scale * (kappa === undefined ? 1 : 0.5 * (kappa[c] + kappa[c - plane]));
      }
    }
  }
  for (let end = 0; end < 2; end++) {
    const k = end === 0 ? 0 : axial - 1;
    const faces = (end === 0 ? 0 : axial) * plane;
    const held = boundary.ends[end];
    const scale = (h * h * sector) / (0.5 * (zFaces[k + 1] - zFaces[k]));
    for (let j = 0; j < angular; j++) {
      for (let i = 0; i < radial; i++) {
        const p = j * radial + i;
        if (held === undefined) {
          cz[faces + p] = 0;
        } else {
          const c = k * plane + p;
          cz[faces + p] = (i + 0.5) * scale * (kappa === undefined ? 1 : kappa[c]);
          f[c] += cz[faces + p] * held[p];
        }
      }
    }
  }
}

/** Flux of κ∇u into the bore through each wall face, [k · angular + j]. */
export function wallFluxes(level: Level, boundary: PolarBoundary, out: Float64Array): void {
  const { radial, angular, cr, u } = level;
  const plane = radial * angular;
  for (let w = 0; w < out.length; w++) {
    const c = w * radial + radial - 1;
    out[w] = cr[c] * (boundary.wall[w] - u[c + plane]);
  }
}
