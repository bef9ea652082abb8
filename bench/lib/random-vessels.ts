/** Random but legal vessels, and what must hold of each: for the campaign and for the sample in the tests. */
import { Refusal } from "../../src/quantity/refusal.ts";
import {
  beamColumns,
  beamProfile,
  fogBand,
  metalBudget,
  solveVapour,
  thermocoupleMap,
  type VesselInput,
  vesselNumbers,
  wallReadings,
  type WetWall,
} from "../../src/vessel/index.ts";
import { generator } from "./generator.ts";

const ELEMENTS = ["Li", "Na", "K", "Rb", "Cs", "Mg", "Ca", "Sr", "Ba", "Zn"];
const GASES = ["He", "Ne", "Ar", "N2"];
const GRID = { radial: 8, angular: 16, axial: 12 };

/** Anywhere in the legal ranges of the setup file, lengths and pressures evenly over their decades. */
export function randomVessel(seed: number): VesselInput {
  const random = generator(seed);
  const even = (low: number, high: number): number => low + (high - low) * random();
  const decades = (low: number, high: number): number => low * (high / low) ** random();
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)];
  const usual = random() < 0.5; // half of them where tubes are run, half anywhere
  const [coldest, hottest] = usual ? [280, 900] : [200, 2000];
  const heatedLength = decades(5e-3, 5);
  const wall = {
    kind: "measured" as const,
    bottom: even(coldest, hottest),
    top: even(coldest, hottest),
    ends: even(coldest, hottest),
    hotStrip: even(0.02, 6.2),
  };
  const tube: VesselInput = {
    element: pick(ELEMENTS),
    bore: decades(1e-3, 0.5),
    heatedLength,
    length: Math.min(8, heatedLength * decades(1, 10)),
    wall,
    gas: pick(GASES),
    gasPressure: usual ? decades(100, 1e5) : decades(1e-3, 1e6),
    ...(random() < 0.3 ? { gasFilledAt: even(200, 1000) } : {}),
    ...(random() < 0.3 ? { windowTemperature: even(coldest, hottest) } : {}),
    ...(random() < 0.5 ? { charge: even(0, 1) } : {}),
  };
  const kind = random();
  // Drawn from a generator of its own, so that the rest of the vessel stays what its seed always gave.
  const wet = randomWet(generator(seed + 0x5eed), tube.length);
  if (wet !== undefined) Object.assign(tube, { wet });
  if (kind < 0.08) {
    const sideArm = even(200, 1500);
    return { ...tube, contents: { kind: "cell", sideArm, body: sideArm + even(0, 500) } };
  }
  if (kind < 0.16) {
    const contents = {
      kind: "flame" as const,
      density: decades(1e10, 1e26),
      centre: even(-0.2, 0.2),
      halfWidth: decades(1e-4, 0.2),
      temperature: even(200, 3500),
    };
    return { ...tube, contents };
  }
  if (kind < 0.3) {
    const points = Array.from({ length: 2 + Math.floor(6 * random()) }, (_, i) => ({
      name: String(i),
      angle: even(-7, 7),
      z: even(-1, 1) * tube.length,
      temperature: even(coldest, hottest),
    }));
    const map = thermocoupleMap(points, tube);
    return { ...tube, map, wall: { ...wall, ...wallReadings(map) } };
  }
  return tube;
}

/** For half of the vessels a wet part: a strip, a length, or both; `narrow` draws the strip evenly over its decades from 0.06° up. */
export function randomWet(random: () => number, length: number, narrow = false): WetWall | undefined {
  if (random() < 0.5) return undefined;
  const width = (share: number): number => (narrow ? 1e-3 * 6200 ** share : 0.02 + 6.18 * share);
  const strip = random() < 0.6 ? { strip: width(random()) } : {};
  if (random() < 0.4) return strip;
  const a = (random() - 0.5) * length;
  const b = (random() - 0.5) * length;
  const from = Math.min(a, b);
  return { ...strip, from, to: Math.max(a, b, from + 2e-4) };
}

export interface Outcome {
  /** "finite", or the code of the refusal */
  readonly kind: string;
  /** what is wrong; empty where all holds */
  readonly faults: readonly string[];
  /** |net flow of metal| over the throughput, 1; 0 where nothing flows */
  readonly imbalance: number;
  readonly cycles: number;
}

/** Solves a vessel and checks: finite, T and ψ within their boundary values, 0 ≤ x < 1, flows in balance to 1e-8. */
export function judge(input: VesselInput): Outcome {
  try {
    return judged(input);
  } catch (error) {
    if (error instanceof Refusal) return { kind: error.record.code, faults: [], imbalance: 0, cycles: 0 };
    return { kind: "fault", faults: [String(error)], imbalance: 0, cycles: 0 };
  }
}

function judged(input: VesselInput): Outcome {
  const field = solveVapour(input, GRID);
  const faults: string[] = [];
  const within = (name: string, values: Float64Array, low: number, high: number): void => {
    for (const v of values) {
      if (v >= low && v <= high) continue;
      faults.push(`${name} ${v} outside ${low} to ${high}`);
      return;
    }
  };
  let [low, high] = [field.wall.window, field.wall.window];
  field.wall.temperature.forEach((t, s) => {
    if (field.wall.share[s] > 0) [low, high] = [Math.min(low, t), Math.max(high, t)];
  });
  within("T", field.gasTemperature, low * (1 - 1e-9), high * (1 + 1e-9));
  within("x", field.moleFraction, 0, 1 - Number.EPSILON);
  const wallPsi = field.wallMoleFraction.reduce((most, x) => Math.max(most, x), 0);
  if (input.contents === undefined)
    within("ψ", field.vapourPotential, 0, hottestPotential(field.regime, wallPsi, field.vapourPotential));
  within("N", field.density, 0, Number.MAX_VALUE);
  const heights = Float64Array.of(-0.3 * input.bore, 0, 0.3 * input.bore);
  const columns = beamColumns(field, heights);
  for (const [name, values] of Object.entries(columns) as [string, Float64Array][])
    within(name, values, -Number.MAX_VALUE, Number.MAX_VALUE);
  const { scaleHeight, chargeLife, warnings: _warnings, ...numbers } = vesselNumbers(field);
  for (const [name, v] of Object.entries(numbers))
    within(name, Float64Array.of(v), -Number.MAX_VALUE, Number.MAX_VALUE);
  if (!(scaleHeight >= 0)) faults.push(`scaleHeight ${scaleHeight}`);
  if (chargeLife !== null && !(chargeLife >= 0 && chargeLife < Infinity))
    faults.push(`chargeLife ${chargeLife}`);
  for (const values of Object.values(beamProfile(field)) as Float64Array[])
    within("profile", values, -Number.MAX_VALUE, Number.MAX_VALUE);
  const band = fogBand(field, columns, numbers.midSupersaturation);
  within("fog", band.columnGradient.low, -Number.MAX_VALUE, Number.MAX_VALUE);
  const { z: _z, settling: _settling, ...flows } = metalBudget(field);
  for (const [name, v] of Object.entries(flows))
    within(name, Float64Array.of(v), -Number.MAX_VALUE, Number.MAX_VALUE);
  let net = 0;
  let through = 0;
  for (const flow of field.evaporation) {
    net += flow;
    through += 0.5 * Math.abs(flow);
  }
  // Where all the wall holds the same x to a millionth, what flows is rounding and balances nothing.
  const level = spread(field.wallMoleFraction) < 1e-6;
  const imbalance = through > 0 && !level ? Math.abs(net) / through : 0;
  if (imbalance > 1e-8) faults.push(`flows out of balance by ${imbalance}`);
  const { heatCycles, vapourCycles } = field.convergence;
  return { kind: field.regime, faults, imbalance, cycles: Math.max(heatCycles, vapourCycles) };
}

/** Of ψ over the wall: difference of the largest and the least, over the largest, 1. */
function spread(x: Float64Array): number {
  const potential = x.map((v) => -Math.log1p(-v));
  const most = potential.reduce((a, b) => Math.max(a, b), 0);
  const least = potential.reduce((a, b) => Math.min(a, b), Infinity);
  return most > 0 ? (most - least) / most : 0;
}

/** Largest ψ on the wall: that of the largest x, or of a face's hottest part where it holds several temperatures. */
function hottestPotential(regime: string, wallFraction: number, psi: Float64Array): number {
  if (regime === "heat-pipe") return -Math.log(1e-6) * (1 + 1e-9);
  const mean = -Math.log1p(-wallFraction);
  // A face cut by an edge means over its parts; its hottest part bounds the field, and lies no higher than the field's own clamp.
  return Math.max(
    mean * (1 + 1e-9),
    psi.reduce((most, v) => Math.max(most, v), 0),
  );
}
