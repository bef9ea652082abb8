/** A liquid's mean temperature follows all the wall it touches: a dense row that the band matrix leaves out. */
import { type BandedLu, solveBandedLu } from "../numerics/banded-lu.ts";
import { coolant } from "./materials.ts";
import type { Cooling } from "./shell-api.ts";

/** (J − w vᵀ) x = r instead of J x = r. */
export interface RankOne {
  readonly w: Float64Array;
  readonly v: Float64Array;
}

/** Corrects the solution x of the band system for the rank-one parts, one after the other (Sherman–Morrison). */
export function addRankOne(factors: BandedLu, x: Float64Array, parts: readonly RankOne[]): void {
  const solved: Float64Array[] = [];
  parts.forEach(({ w }, p) => {
    const y = w.slice();
    solveBandedLu(factors, y);
    for (let q = 0; q < p; q++) shift(y, solved[q], parts[q].v);
    solved.push(y);
    shift(x, y, parts[p].v);
  });
}

/** x + y (v·x)/(1 − v·y) */
function shift(x: Float64Array, y: Float64Array, v: Float64Array): void {
  let vx = 0;
  let vy = 0;
  for (let i = 0; i < x.length; i++) {
    vx += v[i] * x[i];
    vy += v[i] * y[i];
  }
  const s = vx / (1 - vy);
  for (let i = 0; i < x.length; i++) x[i] += s * y[i];
}

/** How the loss of each face answers to a liquid's mean temperature, and that to each face; empty without a liquid. */
export function liquidCoupling(
  cooling: Cooling,
  share: Float64Array,
  area: Float64Array,
  copies: Float64Array,
): readonly RankOne[] {
  if (cooling.kind !== "liquid") return [];
  const w = area.map((a, i) => a * share[i] * cooling.conductance);
  const v = w.map((g, i) => g * copies[i]);
  const total = 2 * cooling.flow * coolant(cooling.coolant).heat_capacity + v.reduce((a, b) => a + b, 0);
  return [{ w, v: v.map((g) => g / total) }];
}

/** W/(m² K), 0 where no liquid cools. */
export function conductanceOf(cooling: Cooling): number {
  return cooling.kind === "liquid" ? cooling.conductance : 0;
}

/** Inlet of the liquid, K; the room where there is none. */
export function inletOf(cooling: Cooling, room: number): number {
  return cooling.kind === "liquid" ? cooling.inlet : room;
}
