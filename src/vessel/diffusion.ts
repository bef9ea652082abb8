/** Diffusion of the vapour through the gas at rest, and the pressure of a closed tube. */
import { exp, log1p, pow } from "../numerics/elementary/index.ts";
import { PolarMultigrid } from "../numerics/multigrid.ts";
import { assemble, type PolarBoundary, wallFluxes } from "../numerics/polar-conductance.ts";
import { cellCount, cellVolume, type PolarGrid } from "../numerics/polar-grid.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { PairDiffusion } from "./gas.ts";
import type { GasTemperature } from "./gas-temperature.ts";
import { solveOrRefuse } from "./solve-or-refuse.ts";
import { faceMeans, type WallMap } from "./wall.ts";
import type { Wetness } from "./wetness.ts";

/** 1 − x at the hot wall in the heat-pipe limit: the gas left there, which the limit itself would put at nought. */
export const LEAST_GAS = 1e-6;
/** Relative accuracy to which the amount of gas is kept. */
const KEPT = 1e-8;

/** Either the pressure while hot, Pa, or the number of gas atoms in the grid, which is kept. */
export type Filling = { readonly pressure: number } | { readonly gasAtoms: number };

export interface Diffusion {
  /** Pa */
  readonly pressure: number;
  /** ψ in the cells, within its boundary values, 1 */
  readonly potential: Float64Array;
  /** atoms from each wall face into the bore, 1/s */
  readonly evaporation: Float64Array;
  /** ψ on the wall faces, where part of the wall is dry */
  readonly wallPotential?: Float64Array;
  /** highest saturation pressure on the wet wall, Pa */
  readonly highest: number;
  readonly cycles: number;
  readonly residual: number;
}

/** Mole fraction over a wall of saturation pressure p_sat at pressure p, held below 1. */
export function wallFraction(saturation: number, pressure: number): number {
  return Math.min(1 - LEAST_GAS, saturation / pressure);
}

/**
 * ∇·((D p/kT) ∇ψ) = 0 with ψ = −ln(1−x), x = p_sat/p on the wet wall, dry wall and both ends closed. D p does not depend on p, so
 * the coefficients are set once whatever pressure is sought; ψ scales almost like 1/p, which starts each new pressure.
 */
export function solveDiffusion(
  grid: PolarGrid,
  wall: WallMap,
  saturation: (temperature: number) => number,
  gas: GasTemperature,
  pair: PairDiffusion,
  filling: Filling,
  tolerance: number,
  start?: Float64Array,
  wet?: Wetness,
): Diffusion {
  const n = cellCount(grid);
  const faces = grid.angular * grid.axial;
  const t0 = pair.referenceTemperature;
  const rate = (pair.reference * pair.referencePressure) / (BOLTZMANN * t0);
  const kappa = new Float64Array(n);
  const wallKappa = new Float64Array(faces);
  for (let c = 0; c < n; c++) kappa[c] = rate * pow(gas.cells[c] / t0, pair.exponent - 1);
  for (let w = 0; w < faces; w++) wallKappa[w] = rate * pow(gas.wall[w] / t0, pair.exponent - 1);
  const solver = new PolarMultigrid(grid, [false, false]);
  const wallValue = new Float64Array(faces);
  const boundary: PolarBoundary = {
    wall: wallValue,
    ...(wet === undefined ? {} : { wallDepth: wet.depth }),
    ends: [undefined, undefined],
  };
  assemble(solver.finest, grid, boundary, kappa, wallKappa);
  solver.prepare(wet !== undefined);
  const highest = highestSaturation(wall, saturation, wet);
  const { f, cr } = solver.finest;
  const psi = solver.solution;
  let cycles = 0;
  let residual = 0;
  let scale = 0;
  if (start !== undefined) psi.set(start.subarray(0, n));
  const solveAt = (pressure: number, accuracy: number): void => {
    faceMeans(wall, wallValue, (t) => -log1p(-wallFraction(saturation(t), pressure)));
    for (let w = 0; w < faces; w++) {
      const c = (w + 1) * grid.radial - 1;
      f[c] = cr[c] * wallValue[w];
    }
    const hot = -log1p(-wallFraction(highest, pressure));
    if (scale > 0) for (let c = 0; c < n; c++) psi[c] *= hot / scale;
    scale = hot;
    const result = solveOrRefuse(solver, accuracy);
    cycles += result.cycles;
    residual = result.residual;
  };
  let pressure: number;
  if ("pressure" in filling) {
    pressure = filling.pressure;
  } else {
    const loose = Math.max(tolerance, 1e-7);
    pressure = pressureThatKeeps(filling.gasAtoms, gasAtoms(grid, 1, undefined, gas.cells), highest, (p) => {
      solveAt(p, loose);
      return gasAtoms(grid, p, psi, gas.cells);
    });
  }
  solveAt(pressure, tolerance);
  const evaporation = new Float64Array(faces);
  wallFluxes(solver.finest, boundary, evaporation);
  balance(grid, solver, evaporation);
  const potential = psi.slice();
  for (let c = 0; c < n; c++) potential[c] = Math.min(scale, Math.max(0, potential[c]));
  return {
    pressure,
    potential,
    evaporation,
    ...(wet === undefined ? {} : { wallPotential: facePotential(grid, wallValue, wet, potential) }),
    highest,
    cycles,
    residual,
  };
}

/** ψ on the wall itself: between the cell's and the one held behind the face, as the flux divides them; a dry face's cell's. */
function facePotential(grid: PolarGrid, held: Float64Array, wet: Wetness, psi: Float64Array): Float64Array {
  const half = (0.5 * grid.radius) / grid.radial;
  return held.map((value, w) => {
    const own = psi[(w + 1) * grid.radial - 1];
    return own + ((value - own) * half) / (half + wet.depth[w]);
  });
}

/**
 * Lifts ψ everywhere by what makes as much settle as leaves: δ = Σ flux / Σ conductance of the wall. The residual that
 * the solver leaves sums to just that net flow, so the lift is as small as the residual is; flows then balance to
 * rounding, whatever the tolerance.
 */
function balance(grid: PolarGrid, solver: PolarMultigrid, flux: Float64Array): void {
  const { cr } = solver.finest;
  let net = 0;
  let conductance = 0;
  for (let w = 0; w < flux.length; w++) {
    net += flux[w];
    conductance += cr[(w + 1) * grid.radial - 1];
  }
  const lift = net / conductance;
  for (let c = 0; c < solver.solution.length; c++) solver.solution[c] += lift;
  for (let w = 0; w < flux.length; w++) flux[w] -= cr[(w + 1) * grid.radial - 1] * lift;
}

function highestSaturation(wall: WallMap, saturation: (t: number) => number, wet?: Wetness): number {
  let highest = 0;
  for (let s = 0; s < wall.share.length; s++) {
    if (wall.share[s] > 0 && wet?.share[Math.floor(s / wall.count)] !== 0)
      highest = Math.max(highest, saturation(wall.temperature[s]));
  }
  return highest;
}

/** p ∫(1 − x)/(kT) dV over the grid; without ψ, of gas alone. */
function gasAtoms(
  grid: PolarGrid,
  p: number,
  psi: Float64Array | undefined,
  temperature: Float64Array,
): number {
  const { radial, angular, axial } = grid;
  let atoms = 0;
  for (let k = 0; k < axial; k++) {
    for (let i = 0; i < radial; i++) {
      let sum = 0;
      for (let j = 0; j < angular; j++) {
        const c = (k * angular + j) * radial + i;
        sum += (psi === undefined ? 1 : exp(-psi[c])) / temperature[c];
      }
      atoms += sum * cellVolume(grid, i, k);
    }
  }
  return (atoms * p) / BOLTZMANN;
}

/**
 * The pressure at which the grid holds `kept` gas atoms. Without vapour it would be a = kept/perPascal; vapour adds at
 * most its highest saturation pressure, which brackets the root. Secant steps, held inside the bracket.
 */
function pressureThatKeeps(
  kept: number,
  perPascal: number,
  highest: number,
  atomsAt: (pressure: number) => number,
): number {
  let low = kept / perPascal;
  let high = low + highest;
  let p0 = low;
  let f0 = atomsAt(p0) / kept - 1;
  if (f0 >= -KEPT) return p0;
  let p1 = Math.min(high, p0 * (1 - f0));
  for (let step = 0; step < 100; step++) {
    const f1 = atomsAt(p1) / kept - 1;
    if (Math.abs(f1) <= KEPT || high - low <= 1e-13 * p1) return p1;
    if (f1 < 0) low = p1;
    else high = p1;
    const secant = p1 - (f1 * (p1 - p0)) / (f1 - f0);
    p0 = p1;
    f0 = f1;
    p1 = secant > low && secant < high ? secant : 0.5 * (low + high);
  }
  return p1;
}
