/** Gas temperature and vapour density in the bore of a tube at rest. */
import { PolarMultigrid } from "../numerics/multigrid.ts";
import { assemble, type PolarBoundary, wallFluxes } from "../numerics/polar-conductance.ts";
import { cellCount, cellVolume } from "../numerics/polar-grid.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { GridSize, VesselInput } from "./api.ts";
import { checkVessel } from "./check.ts";
import type { VapourField } from "./field.ts";
import { conductivity, gasProperties, pairDiffusion } from "./gas.ts";
import { DEFAULT_GRID, gridSize, tubeGrid } from "./grid.ts";
import { kirchhoffTable, temperaturesOf, thetaOf } from "./kirchhoff.ts";
import { saturationPressure } from "../medium/pressure.ts";
import { measuredWall, wallRange } from "./wall.ts";

/** 1 − x at the hot wall in the heat-pipe limit: the gas left there, which the limit itself would put at nought. */
const LEAST_GAS = 1e-6;
const TOLERANCE = 1e-8;

/**
 * Solves a tube: gas temperature from ∇·(κ(T)∇T) = 0 (Kirchhoff's transform), vapour from ∇·(T^(m−1)∇ψ) = 0 with
 * ψ = −ln(1−x), x = p_sat(T_wall)/p on the wall, which is wet with metal everywhere, and no flux through the windows;
 * wall and windows hold the gas temperature. With `gasFilledAt` the amount of gas of the cold filling is kept over
 * the whole tube, cold ends included, and the hot pressure follows.
 *
 * Where p_sat of the hottest wall reaches the pressure, the vapour displaces the gas (heat pipe): the field is the
 * limit with a millionth of gas left at that wall, `regime` says so, and nothing is infinite.
 *
 * Second order in the grid; T and ψ stay within their wall values; relative residual 1e-8. `previous`, a field on a
 * grid of the same size, is where the solver starts. Throws Refusal for input that is no tube.
 */
export function solveVapour(
  input: VesselInput,
  wish: GridSize = DEFAULT_GRID,
  previous?: VapourField,
): VapourField {
  checkVessel(input);
  const size = gridSize(wish);
  const grid = tubeGrid(input, size);
  const n = cellCount(grid);
  const wall = measuredWall(input, grid);
  const faces = size.angular * size.axial;
  const open = new Uint8Array(faces).fill(1);
  const [low, high] = wallRange(wall);
  const warm = previous !== undefined && sameSize(previous.size, size) ? previous : undefined;

  // Temperature.
  const gas = gasProperties(input.gas);
  const table = kirchhoffTable(low, high, (t) => conductivity(gas, t));
  const wallValue = new Float64Array(faces);
  faceMeans(wall, wallValue, (t) => thetaOf(table, t));
  const window = new Float64Array(size.radial * size.angular).fill(thetaOf(table, wall.window));
  const heat = new PolarMultigrid(grid, [true, true]);
  assemble(heat.finest, grid, { wall: wallValue, wallOpen: open, ends: [window, window] });
  heat.prepare();
  if (warm !== undefined) heat.solution.set(warm.heatPotential);
  const heatResult = heat.solve(TOLERANCE);
  const gasTemperature = new Float64Array(n);
  temperaturesOf(table, heat.solution, gasTemperature);
  const wallTemperature = new Float64Array(faces);
  temperaturesOf(table, wallValue, wallTemperature);

  // Vapour: the coefficient (T/T0)^m / T × T0, so that rates come out in atoms per second at once.
  const pair = pairDiffusion(input.element, gas);
  const m = pair.exponent;
  const t0 = pair.referenceTemperature;
  const rate = (pair.reference * pair.referencePressure) / (BOLTZMANN * t0);
  const kappa = new Float64Array(n);
  const wallKappa = new Float64Array(faces);
  for (let c = 0; c < n; c++) kappa[c] = rate * (gasTemperature[c] / t0) ** (m - 1);
  for (let w = 0; w < faces; w++) wallKappa[w] = rate * (wallTemperature[w] / t0) ** (m - 1);
  const vapour = new PolarMultigrid(grid, [false, false]);
  const boundary: PolarBoundary = { wall: wallValue, wallOpen: open, ends: [undefined, undefined] };
  assemble(vapour.finest, grid, boundary, kappa, wallKappa);
  vapour.prepare();
  if (warm !== undefined) vapour.solution.set(warm.vapourPotential);

  const saturated = new Map<number, number>();
  for (let s = 0; s < wall.share.length; s++) {
    const t = wall.temperature[s];
    if (!saturated.has(t)) saturated.set(t, saturationPressure(input.element, t, input.pressureEquation));
  }
  let highest = 0;
  for (let s = 0; s < wall.share.length; s++) {
    if (wall.share[s] > 0) highest = Math.max(highest, saturated.get(wall.temperature[s])!);
  }
  let vapourCycles = 0;
  let vapourResidual = 0;
  const fraction = (t: number, p: number): number => Math.min(1 - LEAST_GAS, saturated.get(t)! / p);
  /** Solves for ψ at a pressure; gives p ∫(1 − x)/(kT) dV, the number of gas atoms. */
  const solveAt = (p: number): number => {
    faceMeans(wall, wallValue, (t) => -Math.log1p(-fraction(t, p)));
    const { f, cr } = vapour.finest;
    for (let w = 0; w < faces; w++)
      f[(w + 1) * size.radial - 1] = cr[(w + 1) * size.radial - 1] * wallValue[w];
    const result = vapour.solve(TOLERANCE);
    vapourCycles += result.cycles;
    vapourResidual = result.residual;
    return gasAtoms(grid, p, vapour.solution, gasTemperature);
  };
  let pressure = input.gasPressure;
  if (input.gasFilledAt === undefined) {
    solveAt(pressure);
  } else {
    const volume = Math.PI * grid.radius * grid.radius * input.length;
    const kept = (input.gasPressure * volume) / (BOLTZMANN * input.gasFilledAt);
    pressure = pressureThatKeeps(kept, gasAtoms(grid, 1, undefined, gasTemperature), highest, solveAt);
  }

  const psiHigh = -Math.log1p(-Math.min(1 - LEAST_GAS, highest / pressure));
  const psi = vapour.solution.slice();
  const moleFraction = new Float64Array(n);
  const density = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    psi[c] = Math.min(psiHigh, Math.max(0, psi[c]));
    const x = -Math.expm1(-psi[c]);
    moleFraction[c] = x;
    density[c] = (x * pressure) / (BOLTZMANN * gasTemperature[c]);
  }
  const wallMoleFraction = new Float64Array(faces);
  const wallDensity = new Float64Array(faces);
  faceMeans(wall, wallMoleFraction, (t) => fraction(t, pressure));
  faceMeans(wall, wallDensity, (t) => (fraction(t, pressure) * pressure) / (BOLTZMANN * t));
  const evaporation = new Float64Array(faces);
  wallFluxes(vapour.finest, boundary, evaporation);
  return {
    input,
    size,
    grid,
    wall,
    pressure,
    regime: highest >= pressure * (1 - LEAST_GAS) ? "heat-pipe" : "diffusion",
    gasTemperature,
    moleFraction,
    density,
    heatPotential: heat.solution.slice(),
    vapourPotential: psi,
    wallTemperature,
    wallDensity,
    wallMoleFraction,
    evaporation,
    convergence: {
      heatCycles: heatResult.cycles,
      vapourCycles,
      heatResidual: heatResult.residual,
      vapourResidual,
    },
  };
}

function sameSize(a: GridSize, b: GridSize): boolean {
  return a.radial === b.radial && a.angular === b.angular && a.axial === b.axial;
}

/** Mean over each wall face of a function of its temperatures. */
function faceMeans(wall: VapourField["wall"], out: Float64Array, of: (t: number) => number): void {
  const { count, temperature, share } = wall;
  for (let w = 0; w < out.length; w++) {
    let sum = 0;
    for (let s = w * count; s < (w + 1) * count; s++) if (share[s] > 0) sum += share[s] * of(temperature[s]);
    out[w] = sum;
  }
}

/** p ∫(1 − x)/(kT) dV; without ψ, of gas alone. */
function gasAtoms(
  grid: VapourField["grid"],
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
        sum += (psi === undefined ? 1 : Math.exp(-psi[c])) / temperature[c];
      }
      atoms += sum * cellVolume(grid, i, k);
    }
  }
  return (atoms * p) / BOLTZMANN;
}

/**
 * The pressure at which the tube holds `kept` gas atoms. Without vapour it would be kept/perPascal; the vapour adds at
 * most its highest saturation pressure, which brackets the root (Illinois variant of the false position).
 */
function pressureThatKeeps(
  kept: number,
  perPascal: number,
  highest: number,
  atomsAt: (p: number) => number,
): number {
  let a = kept / perPascal;
  let fa = atomsAt(a) - kept;
  if (Math.abs(fa) <= 1e-10 * kept) return a;
  let b = a + highest;
  let fb = atomsAt(b) - kept;
  let side = 0;
  for (let step = 0; step < 60; step++) {
    const p = fb === fa ? 0.5 * (a + b) : (a * fb - b * fa) / (fb - fa);
    const fp = atomsAt(p) - kept;
    if (Math.abs(fp) <= 1e-10 * kept || Math.abs(b - a) <= 1e-12 * p) return p;
    if (fp > 0) {
      b = p;
      fb = fp;
      if (side === 1) fa *= 0.5;
      side = 1;
    } else {
      a = p;
      fa = fp;
      if (side === -1) fb *= 0.5;
      side = -1;
    }
  }
  return 0.5 * (a + b);
}
