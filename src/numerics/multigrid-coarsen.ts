/** Builds the next coarser level: which directions to halve, its conductances, and the weights of interpolation. */
import { createLevel, type Level, wallShare } from "./multigrid-level.ts";
import type { AxialWeights, Halving } from "./multigrid-transfer.ts";

/** Slices on average thinner than this share of a sector's width at the wall are joined, by themselves. */
const THIN_SLICE = 0.5;

/** A slice of so few cells is solved directly, however many slices there are. */
const SMALL_PLANE = 24;

/**
 * What to halve. Lines are relaxed in radius and angle, so these two go together; length is relaxed point by point, so
 * slices are joined alone while their coupling is strong, by four where they can (with two relaxations a level that
 * takes no more cycles than by two, and less memory), and left alone while it is weak. Halving all three at once costs
 * up to three times the cycles. Returns undefined where nothing can be halved any more.
 */
export function chooseHalving(level: Level, radius: number): Halving | undefined {
  const { radial, angular, axial, zFaces } = level;
  const canRadial = radial % 2 === 0 && radial >= 4;
  const canAngular = angular % 4 === 0 && angular >= 8;
  const canCross = canRadial || canAngular;
  const thickness = (zFaces[axial] - zFaces[0]) / axial;
  const thin = thickness < THIN_SLICE * ((radius * 2 * Math.PI) / angular);
  if (!canCross && radial * angular <= SMALL_PLANE) return undefined;
  if (thin || !canCross) {
    const joined = ([4, 2, 3] as const).find((count) => axial % count === 0);
    if (joined !== undefined) return { radial: false, angular: false, axial: joined };
  }
  if (!canCross) return undefined;
  return { radial: canRadial, angular: canAngular, axial: 1 };
}

export function coarsen(fine: Level, halving: Halving): Level {
  const axial = fine.axial / halving.axial;
  const faces = new Float64Array(axial + 1);
  for (let k = 0; k <= axial; k++) faces[k] = fine.zFaces[halving.axial * k];
  return createLevel(
    halving.radial ? fine.radial / 2 : fine.radial,
    halving.angular ? fine.angular / 2 : fine.angular,
    axial,
    faces,
  );
}

/** Distance between the middles of slices on both sides of face k; at an end, from the middle to the face. */
function spacing(zFaces: Float64Array, k: number): number {
  const n = zFaces.length - 1;
  if (k === 0) return 0.5 * (zFaces[1] - zFaces[0]);
  if (k === n) return 0.5 * (zFaces[n] - zFaces[n - 1]);
  return 0.5 * (zFaces[k + 1] - zFaces[k - 1]);
}

/** Resistance of the narrowing toward a wall of which half a coarse sector is open, in that of a coarse ring. */
const NARROWING = 0.5;

/**
 * Conductances of the coarse faces: fine faces side by side add up, a doubled distance halves them. Where the wall is
 * `patchy`, partly closed or held behind it, the distance to the held value is not doubled, and where one of two joined
 * sectors is closed the flow must narrow; without that a narrow open strip takes twice the cycles (bench/vessel.ts).
 */
export function coarsenConductances(fine: Level, coarse: Level, halving: Halving, patchy: boolean): void {
  const sr = halving.radial ? 1 : 0;
  const sp = halving.angular ? 1 : 0;
  const sz = halving.axial;
  const { radial, angular, axial } = fine;
  const plane = radial * angular;
  const coarsePlane = coarse.radial * coarse.angular;
  coarse.cr.fill(0);
  coarse.cp.fill(0);
  coarse.cz.fill(0);
  const half = (flag: number): number => (flag === 1 ? 0.5 : 1);
  for (let k = 0; k < axial; k++) {
    for (let j = 0; j < angular; j++) {
      const line = k * plane + j * radial;
      const target = Math.floor(k / sz) * coarsePlane + (j >> sp) * coarse.radial;
      const onSectorFace = sp === 0 || (j & 1) === 1;
      for (let i = 0; i < radial; i++) {
        const t = target + (i >> sr);
        if (sr === 0 || (i & 1) === 1) coarse.cr[t] += half(sr) * fine.cr[line + i];
        if (onSectorFace) coarse.cp[t] += half(sp) * fine.cp[line + i];
      }
    }
  }
  if (patchy && sr === 1) patchyWall(fine, coarse, halving);
  for (let k = 0; k <= axial; k++) {
    if (k % sz !== 0) continue;
    const factor = spacing(fine.zFaces, k) / spacing(coarse.zFaces, k / sz);
    for (let j = 0; j < angular; j++) {
      const line = k * plane + j * radial;
      const target = Math.floor(k / sz) * coarsePlane + (j >> sp) * coarse.radial;
      for (let i = 0; i < radial; i++) coarse.cz[target + (i >> sr)] += factor * fine.cz[line + i];
    }
  }
}

/** The wall's coarse conductances, rings and perhaps sectors halved, for a wall that is partly closed. */
function patchyWall(fine: Level, coarse: Level, halving: Halving): void {
  const { radial, angular, axial, cr } = fine;
  const step = halving.angular ? 2 : 1;
  const ring = coarse.radial / (coarse.radial - 1);
  for (let k = 0; k < axial; k++) {
    for (let j = 0; j < angular; j += step) {
      const c = (k * angular + j + 1) * radial - 1;
      const t = (k * coarse.angular + j / step + 1) * coarse.radial - 1;
      coarse.cr[t] = cr[c] * wallShare(fine, c);
      if (step === 1) continue;
      const b = c + radial;
      coarse.cr[t] += cr[b] * wallShare(fine, b);
      const sum = cr[c] + cr[b];
      const uneven = sum > 0 ? (cr[c] - cr[b]) / sum : 0;
      coarse.cr[t] /= 1 + (NARROWING * uneven * uneven * coarse.cr[t]) / (ring * coarse.cr[t - 1]);
    }
  }
}

/**
 * Linear interpolation of a correction from the coarse slices to the fine ones. Beyond a held end the correction is
 * zero on the end face; beyond a closed end it stays constant.
 */
export function axialWeights(fine: Level, coarse: Level, held: readonly [boolean, boolean]): AxialWeights {
  const n = fine.axial;
  const weights = {
    near: new Int32Array(n),
    far: new Int32Array(n),
    nearWeight: new Float64Array(n),
    farWeight: new Float64Array(n),
  };
  const joined = n / coarse.axial;
  const centre = (faces: Float64Array, k: number): number => 0.5 * (faces[k] + faces[k + 1]);
  for (let k = 0; k < n; k++) {
    const near = Math.floor(k / joined);
    weights.near[k] = near;
    weights.far[k] = near;
    weights.nearWeight[k] = 1;
    if (joined === 1) continue;
    const far = 2 * (k % joined) < joined - 1 ? near - 1 : near + 1;
    const z = centre(fine.zFaces, k);
    const zn = centre(coarse.zFaces, near);
    if (far < 0 || far >= coarse.axial) {
      const end = far < 0 ? 0 : 1;
      const face = coarse.zFaces[end === 0 ? 0 : coarse.axial];
      if (held[end]) weights.nearWeight[k] = (z - face) / (zn - face);
      continue;
    }
    const zf = centre(coarse.zFaces, far);
    weights.far[k] = far;
    weights.nearWeight[k] = (z - zf) / (zn - zf);
    weights.farWeight[k] = (z - zn) / (zf - zn);
  }
  return weights;
}
