/** The charge of metal: how much is in flight, where it settles, how much to load, and what water would make of it. */
import { pow } from "../numerics/elementary/index.ts";
import { meltingPoint, saturationPressure } from "../medium/pressure.ts";
import { cellVolume, sliceCentre } from "../numerics/polar-grid.ts";
import { ATMOSPHERE, AVOGADRO, BOLTZMANN, GAS_CONSTANT } from "../reference/index.ts";
import type { TubeInput, VapourField } from "./field.ts";
import { gasProperties, hydrogenPerMetal, metalMolarMass, pairDiffusion, solidDensity } from "./gas.ts";
import { metalFlows } from "./flows.ts";
import { coldestPart, type WallMap, wallRange } from "./wall.ts";

export interface MetalBudget {
  /** metal in the vapour at any moment, kg */
  readonly inFlight: number;
  /** leaves the wall, kg/s */
  readonly evaporation: number;
  /** settles above the melting point and runs back, kg/s */
  readonly liquidReturn: number;
  /** settles below the melting point and stays, kg/s */
  readonly solidLoss: number;
  /** middle of each slice, m, and what settles there less what leaves, kg/(s m): where the metal will be found */
  readonly z: Float64Array;
  readonly settling: Float64Array;
  /** fastest build-up of solid on any face, kg/(m² s) */
  readonly solidBuildUp: number;
  /** the same as a thickness, m/s, and where along the tube, m from its middle; 0 where none settles as a solid */
  readonly crustGrowth: number;
  readonly crustAt: number;
  /** metal partial pressure at the windows, Pa */
  readonly windowPressure: number;
  /** temperature below which a window fogs: where the metal's saturation pressure is the one above, K */
  readonly windowDewPoint: number;
  /** upper bound of a film's growth on the windows by diffusion across half a bore, m/s; 0 where they are warm enough */
  readonly windowGrowth: number;
  /** metal partial pressure at the windows over its saturation pressure at their temperature, 1: above 1 they fog */
  readonly windowSaturation: number;
}

/**
 * Flows of metal in a solved tube. What is called solid settles on faces whose coldest part lies below the melting
 * point. The rates scale with the diffusion coefficient (`pairDiffusion` says how well it is known); the in-flight
 * mass does not. `windowTemperature` defaults to the ends' temperature; the windows themselves take no metal in the
 * model.
 */
export function metalBudget(field: VapourField, windowTemperature = field.wall.window): MetalBudget {
  const { grid, input, evaporation, density, wall } = field;
  const atom = metalMolarMass(input.element) / AVOGADRO;
  const melting = meltingPoint(input.element);
  const { radial, angular, axial } = grid;
  const z = new Float64Array(axial);
  const settling = new Float64Array(axial);
  const sector = (2 * Math.PI) / angular;
  let inFlight = 0;
  let solidBuildUp = 0;
  let crustAt = 0;
  for (let k = 0; k < axial; k++) {
    z[k] = sliceCentre(grid, k);
    const thickness = grid.zFaces[k + 1] - grid.zFaces[k];
    const area = grid.radius * sector * thickness;
    for (let j = 0; j < angular; j++) {
      const w = k * angular + j;
      settling[k] -= (evaporation[w] * atom) / thickness;
      const rate = (-evaporation[w] * atom) / area;
      if (coldestPart(wall, w) < melting && rate > solidBuildUp) {
        solidBuildUp = rate;
        crustAt = z[k];
      }
      for (let i = 0; i < radial; i++) inFlight += density[w * radial + i] * cellVolume(grid, i, k) * atom;
    }
  }
  let atWindow = 0;
  for (let c = 0; c < radial * angular; c++) {
    const last = (axial - 1) * radial * angular + c;
    atWindow = Math.max(atWindow, field.moleFraction[c], field.moleFraction[last]);
  }
  const saturation = saturationPressure(input.element, windowTemperature, input.pressureEquation);
  const solid = solidDensity(input.element) ?? Infinity;
  const windowPressure = atWindow * field.pressure;
  return {
    inFlight,
    ...metalFlows(field),
    z,
    settling,
    solidBuildUp,
    crustGrowth: solidBuildUp / solid,
    crustAt,
    windowPressure,
    windowDewPoint: dewPoint(input, windowPressure, field.wall),
    windowGrowth: filmGrowth(field, windowPressure - saturation, windowTemperature) * (atom / solid),
    windowSaturation: windowPressure / saturation,
  };
}

/** Temperature at which the metal's saturation pressure is `pressure`, K, by bisection between 100 K and the hottest wall. */
function dewPoint({ element, pressureEquation }: TubeInput, pressure: number, wall: WallMap): number {
  let low = 100;
  let high = wallRange(wall)[1];
  while (high - low > 1e-3) {
    const middle = 0.5 * (low + high);
    if (saturationPressure(element, middle, pressureEquation) < pressure) low = middle;
    else high = middle;
  }
  return high;
}

/** Atoms that reach a square metre in a second, J = D Δp/(kT · R/2), where the pressure there is `excess` too high. */
function filmGrowth(field: VapourField, excess: number, temperature: number): number {
  if (excess <= 0 || field.regime === "stated") return 0;
  const pair = pairDiffusion(field.input.element, gasProperties(field.input.gas));
  const diffusion =
    pair.reference *
    pow(temperature / pair.referenceTemperature, pair.exponent) *
    (pair.referencePressure / field.pressure);
  return (diffusion * excess) / (BOLTZMANN * temperature * 0.5 * field.grid.radius);
}

/** Metal to load for a run of that many seconds, kg: what is lost as solid, twice over, and what is in flight. */
export function chargeFor(budget: MetalBudget, duration: number): number {
  return 2 * budget.solidLoss * duration + budget.inFlight;
}

/** Hydrogen that a mass of metal in kg would set free from water. */
export interface HydrogenEquivalent {
  /** mol */
  readonly moles: number;
  /** m³ at 20 °C and one atmosphere */
  readonly volume: number;
}

/**
 * Hydrogen if water reaches the whole charge: M + H2O → MOH + ½ H2 for the alkalis, M + 2 H2O → M(OH)2 + H2 for the
 * alkaline earths, none for metals that cold water leaves alone. For the cautions: local rules and the safety officer
 * decide.
 */
export function hydrogenEquivalent(element: string, mass: number): HydrogenEquivalent {
  const moles = (mass / metalMolarMass(element)) * hydrogenPerMetal(element);
  return { moles, volume: (moles * GAS_CONSTANT * 293.15) / ATMOSPHERE };
}
