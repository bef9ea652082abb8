/**
 * A finer model of fog than the bracket: a plane layer of vapour between the metal and the cooled top in which droplets
 * come into being above a stated supersaturation, grow, shrink, drift and leave. It asks where between linear diffusion
 * and saturation the truth may lie; its inputs (threshold, birth rate, size at birth) are assumptions, stated as such.
 */
import { pow } from "../numerics/elementary/index.ts";
import gases from "../../data/gases.json" with { type: "json" };
import { saturationPressure } from "../medium/pressure.ts";
import { Refusal } from "../quantity/refusal.ts";
import { AVOGADRO, BOLTZMANN } from "../reference/index.ts";
import type { VesselInput } from "./api.ts";
import { birthAndGrowth, drift, type Droplets, type FogAir } from "./fog-droplets.ts";
import {
  conductivity,
  gasProperties,
  metalMolarMass,
  pairDiffusion,
  solidDensity,
  viscosity,
} from "./gas.ts";
import { kirchhoffTable, temperaturesOf } from "./kirchhoff.ts";

export interface FogLayerInput
  extends Pick<VesselInput, "element" | "gas" | "gasPressure" | "bore" | "pressureEquation"> {
  /** metal and cooled top, K */
  readonly bottom: number;
  readonly top: number;
  /** supersaturation above which droplets come into being, 1, > 1 */
  readonly threshold: number;
  /** s followed, default 20: several transits of the drops */
  readonly duration?: number;
}

/** Heights ascending from metal to top; arrays of one length. Means over the second half of the time. */
export interface FogLayer {
  /** m */
  readonly height: Float64Array;
  /** metal atoms in the vapour, m⁻³: this model, linear diffusion, saturation */
  readonly density: Float64Array;
  readonly linear: Float64Array;
  readonly saturated: Float64Array;
  /** p/p_sat(T), 1 */
  readonly supersaturation: Float64Array;
  /** droplets, m⁻³ */
  readonly droplets: Float64Array;
  /** at mid-height: 0 at saturation, 1 at linear diffusion; for density and for its gradient */
  readonly densityShare: number;
  readonly gradientShare: number;
  /** whether droplets came into being */
  readonly fogged: boolean;
}

const CELLS = 64;
const STEP = 2e-3;

/**
 * Layer of thickness πR/2, whose gradient at mid-height is that of a half-hot bore. Temperature by conduction with
 * κ(T); vapour thin in its gas, ∂(p/kT)/∂t = ∂((D/kT) ∂p/∂y)/∂y − growth of the drops, one implicit step after the
 * other; drops of one size per height (number and condensed atoms), by `fog-droplets.ts`. Not in it: droplets meeting,
 * their own heat, the pressure over small drops, spread of sizes.
 */
export function fogLayer(input: FogLayerInput): FogLayer {
  const { element, bottom, top, gasPressure, threshold } = input;
  if (!(bottom > top && top > 0 && threshold > 1)) {
    throw new Refusal({
      code: "out-of-range",
      field: "vessel.top",
      received: `${top} K below a metal of ${bottom} K, threshold ${threshold}`,
      expected: "a top colder than the metal and a threshold above 1",
    });
  }
  const gas = gasProperties(input.gas);
  const pair = pairDiffusion(element, gas);
  const thickness = 0.25 * Math.PI * input.bore;
  const dy = thickness / CELLS;
  const temperature = layerTemperature(bottom, top, (t) => conductivity(gas, t));
  const atomMass = metalMolarMass(element) / AVOGADRO;
  const air: FogAir = {
    temperature,
    slope: temperature.map(
      (_, i) =>
        (temperature[Math.min(CELLS - 1, i + 1)] - temperature[Math.max(0, i - 1)]) /
        (dy * (i === 0 || i === CELLS - 1 ? 1 : 2)),
    ),
    diffusion: temperature.map(
      (t) =>
        pair.reference *
        pow(t / pair.referenceTemperature, pair.exponent) *
        (pair.referencePressure / gasPressure),
    ),
    saturation: temperature.map((t) => saturationPressure(element, t, input.pressureEquation)),
    viscosity: temperature.map((t) => viscosity(gas, t)),
    gasDensity: temperature.map((t) => (gasPressure * gas.particleMass) / (BOLTZMANN * t)),
    gasParticleMass: gas.particleMass,
    atomMass,
    dropDensity: solidDensity(element) ?? 1000,
    gravity: gases.standard_gravity.value,
  };
  const ends = [bottom, top].map((t) => saturationPressure(element, t, input.pressureEquation));
  const endDiffusion = [bottom, top].map(
    (t) =>
      (pair.reference * pow(t / pair.referenceTemperature, pair.exponent) * pair.referencePressure) /
      gasPressure /
      (BOLTZMANN * t),
  );
  const pressure = new Float64Array(CELLS);
  const none = new Float64Array(CELLS);
  const vapour = { air, dy, ends, endDiffusion };
  stepVapour(vapour, pressure, none, Infinity);
  const linear = pressure.map((p, i) => p / (BOLTZMANN * temperature[i]));
  const drops: Droplets = { number: new Float64Array(CELLS), atoms: new Float64Array(CELLS) };
  const sink = new Float64Array(CELLS);
  const steps = Math.ceil((input.duration ?? 20) / STEP);
  const sums = { density: new Float64Array(CELLS), number: new Float64Array(CELLS) };
  let fogged = false;
  for (let s = 0; s < steps; s++) {
    fogged = birthAndGrowth(air, drops, pressure, sink, threshold, STEP) || fogged;
    if (!fogged) break; // linear diffusion stays below the threshold everywhere
    const before = pressure.slice();
    stepVapour(vapour, pressure, sink, STEP);
    for (let i = 0; i < CELLS; i++) {
      // What the drops took in this implicit step, with the sign of an evaporating drop kept.
      const gained = sink[i] * (pressure[i] - air.saturation[i]) * STEP;
      drops.atoms[i] = Math.max(0, drops.atoms[i] + gained);
    }
    drift(air, drops, dy, STEP);
    if (2 * s >= steps) {
      for (let i = 0; i < CELLS; i++) {
        sums.density[i] += (0.5 * (pressure[i] + before[i])) / (BOLTZMANN * temperature[i]);
        sums.number[i] += drops.number[i];
      }
    }
  }
  const kept = steps - Math.ceil(steps / 2);
  const density = fogged ? sums.density.map((v) => v / kept) : linear.slice();
  const saturated = air.saturation.map((p, i) => p / (BOLTZMANN * temperature[i]));
  return {
    height: Float64Array.from({ length: CELLS }, (_, i) => (i + 0.5) * dy),
    density,
    linear,
    saturated,
    supersaturation: density.map((d, i) => d / saturated[i]),
    droplets: sums.number.map((v) => v / Math.max(1, kept)),
    densityShare: share(density, linear, saturated, (a) => 0.5 * (a[CELLS / 2 - 1] + a[CELLS / 2])),
    gradientShare: share(density, linear, saturated, (a) => a[CELLS / 2 + 3] - a[CELLS / 2 - 4]),
    fogged,
  };
}

function share(
  a: Float64Array,
  linear: Float64Array,
  saturated: Float64Array,
  of: (a: Float64Array) => number,
): number {
  return (of(a) - of(saturated)) / (of(linear) - of(saturated));
}

/** Temperatures of the cells between two plates, K, by Kirchhoff's transform. */
function layerTemperature(bottom: number, top: number, kappa: (t: number) => number): Float64Array {
  const table = kirchhoffTable(top, bottom, kappa);
  const whole = table.theta[table.theta.length - 1];
  const theta = Float64Array.from({ length: CELLS }, (_, i) => whole * (1 - (i + 0.5) / CELLS));
  const out = new Float64Array(CELLS);
  temperaturesOf(table, theta, out);
  return out;
}

interface Vapour {
  readonly air: FogAir;
  readonly dy: number;
  /** saturation pressure on metal and top, Pa, and D/(kT) there */
  readonly ends: readonly number[];
  readonly endDiffusion: readonly number[];
}

/** One implicit step of the vapour's pressure, Pa; `sink` in atoms/(m³ s Pa). dt = Infinity: the steady state. */
function stepVapour(vapour: Vapour, pressure: Float64Array, sink: Float64Array, dt: number): void {
  const { air, dy, ends, endDiffusion } = vapour;
  const n = pressure.length;
  const flow = (i: number): number => air.diffusion[i] / (BOLTZMANN * air.temperature[i]);
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const below = i === 0 ? (flow(0) + endDiffusion[0]) / dy : (0.5 * (flow(i) + flow(i - 1))) / dy;
    const above = i === n - 1 ? (flow(i) + endDiffusion[1]) / dy : (0.5 * (flow(i) + flow(i + 1))) / dy;
    const store = dt === Infinity ? 0 : dy / (BOLTZMANN * air.temperature[i] * dt);
    const taken = sink[i] * dy;
    let diagonal = below + above + store + taken;
    let value = store * pressure[i] + taken * air.saturation[i];
    if (i === 0) value += below * ends[0];
    if (i === n - 1) value += above * ends[1];
    if (i > 0) {
      diagonal -= below * upper[i - 1];
      value += below * right[i - 1];
    }
    upper[i] = i === n - 1 ? 0 : above / diagonal;
    right[i] = value / diagonal;
  }
  for (let i = n - 1; i >= 0; i--) pressure[i] = right[i] + (i === n - 1 ? 0 : upper[i] * pressure[i + 1]);
}
