/** Droplets of metal in a gas: how they come into being, grow and drift. Dilute; one size at each height. */
import { cbrt, exp, pow } from "../numerics/elementary/index.ts";
import { BOLTZMANN } from "../reference/index.ts";

/** What the drops live in; arrays over the heights. */
export interface FogAir {
  /** K, and its slope, K/m */
  readonly temperature: Float64Array;
  readonly slope: Float64Array;
  /** of the metal's atoms, m²/s */
  readonly diffusion: Float64Array;
  /** Pa */
  readonly saturation: Float64Array;
  /** of the gas, Pa s and kg/m³ */
  readonly viscosity: Float64Array;
  readonly gasDensity: Float64Array;
  /** kg */
  readonly gasParticleMass: number;
  readonly atomMass: number;
  /** kg/m³ */
  readonly dropDensity: number;
  /** m/s² */
  readonly gravity: number;
}

export interface Droplets {
  /** m⁻³ */
  readonly number: Float64Array;
  /** condensed atoms, m⁻³ */
  readonly atoms: Float64Array;
}

/** Radius at birth, m, and births per excess over the threshold, 1/(m³ s): assumptions. */
const BORN = 10e-9;
const BIRTHS = 1e12;
/** Fewer drops than that in a cubic metre are none. */
const LEAST = 1;
/** Momentum that warm gas gives a small drop: v = −K (η/ρ) ∇T/T, free-molecular limit ¾/(1 + π/8) (Waldmann; from memory). */
const THERMOPHORESIS = 0.54;

/**
 * New drops where p/p_sat exceeds the threshold, BIRTHS · (S/S* − 1) of them, and fills `sink`, atoms/(m³ s Pa), with
 * 4π a n D/(kT) · (1 + Kn)/(1 + 1.71 Kn + 1.33 Kn²), Kn = 3D/(v̄ a) (Fuchs & Sutugin 1971; from memory). Drops that have
 * shrunk below a tenth of their birth size, or are fewer than one in a cubic metre, are given up. True where any drop came into being.
 */
export function birthAndGrowth(
  air: FogAir,
  drops: Droplets,
  pressure: Float64Array,
  sink: Float64Array,
  threshold: number,
  dt: number,
): boolean {
  const { number, atoms } = drops;
  const atomsAtBirth = ((4 / 3) * Math.PI * pow(BORN, 3) * air.dropDensity) / air.atomMass;
  let born = false;
  for (let i = 0; i < sink.length; i++) {
    const t = air.temperature[i];
    const over = pressure[i] / (air.saturation[i] * threshold) - 1;
    if (over > 0) {
      const fresh = BIRTHS * Math.min(over, 10) * dt;
      number[i] += fresh;
      atoms[i] += fresh * atomsAtBirth;
      born = true;
    }
    if (number[i] < LEAST || atoms[i] < 1e-3 * number[i] * atomsAtBirth) {
      number[i] = 0;
      atoms[i] = 0;
      sink[i] = 0;
      continue;
    }
    const a = radius(air, drops, i);
    const speed = Math.sqrt((8 * BOLTZMANN * t) / (Math.PI * air.atomMass));
    const kn = (3 * air.diffusion[i]) / (speed * a);
    sink[i] =
      (4 * Math.PI * a * number[i] * air.diffusion[i] * (1 + kn)) /
      ((1 + 1.71 * kn + 1.33 * kn * kn) * BOLTZMANN * t);
  }
  return born;
}

function radius(air: FogAir, { number, atoms }: Droplets, i: number): number {
  return cbrt((3 * atoms[i] * air.atomMass) / (4 * Math.PI * air.dropDensity * number[i]));
}

/** Velocity of the drops at a height, m/s upward: toward the cold, less the fall (Stokes with slip, Cunningham). */
function velocity(air: FogAir, drops: Droplets, i: number): number {
  const a = radius(air, drops, i);
  const t = air.temperature[i];
  const free =
    (air.viscosity[i] / air.gasDensity[i]) * Math.sqrt((Math.PI * air.gasParticleMass) / (2 * BOLTZMANN * t));
  const kn = free / a;
  const slip = 1 + kn * (1.257 + 0.4 * exp(-1.1 / kn));
  const fall = (2 * air.dropDensity * air.gravity * a * a * slip) / (9 * air.viscosity[i]);
  return (-THERMOPHORESIS * air.viscosity[i] * air.slope[i]) / (air.gasDensity[i] * t) - fall;
}

/** Moves the drops by one step, upwind; those that reach metal or top stay there. */
export function drift(air: FogAir, drops: Droplets, dy: number, dt: number): void {
  const { number, atoms } = drops;
  const n = number.length;
  const gained = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    if (number[i] <= 0 || atoms[i] <= 0) continue;
    const share = Math.max(-1, Math.min(1, (velocity(air, drops, i) * dt) / dy));
    const to = share > 0 ? i + 1 : i - 1;
    const moved = Math.abs(share);
    gained[0][i] -= moved * number[i];
    gained[1][i] -= moved * atoms[i];
    if (to >= 0 && to < n) {
      gained[0][to] += moved * number[i];
      gained[1][to] += moved * atoms[i];
    }
  }
  for (let i = 0; i < n; i++) {
    number[i] += gained[0][i];
    atoms[i] += gained[1][i];
  }
}
