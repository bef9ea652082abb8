/** The charge of metal: how much is in flight, where it settles, how much to load, and what water would make of it. */
import { meltingPoint, saturationPressure } from "../medium/pressure.ts";
import { cellVolume, sliceCentre } from "../numerics/polar-grid.ts";
import { ATMOSPHERE, AVOGADRO, GAS_CONSTANT } from "../reference/index.ts";
import type { VapourField } from "./field.ts";
import { hydrogenPerMetal, metalMolarMass } from "./gas.ts";
import { metalFlows } from "./numbers.ts";

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
  for (let k = 0; k < axial; k++) {
    z[k] = sliceCentre(grid, k);
    const thickness = grid.zFaces[k + 1] - grid.zFaces[k];
    const area = grid.radius * sector * thickness;
    for (let j = 0; j < angular; j++) {
      const w = k * angular + j;
      settling[k] -= (evaporation[w] * atom) / thickness;
      let coldest = Infinity;
      for (let s = w * wall.count; s < (w + 1) * wall.count; s++) {
        if (wall.share[s] > 0) coldest = Math.min(coldest, wall.temperature[s]);
      }
      if (coldest < melting) solidBuildUp = Math.max(solidBuildUp, (-evaporation[w] * atom) / area);
      for (let i = 0; i < radial; i++) inFlight += density[w * radial + i] * cellVolume(grid, i, k) * atom;
    }
  }
  let atWindow = 0;
  for (let c = 0; c < radial * angular; c++) {
    const last = (axial - 1) * radial * angular + c;
    atWindow = Math.max(atWindow, field.moleFraction[c], field.moleFraction[last]);
  }
  const saturation = saturationPressure(input.element, windowTemperature, input.pressureEquation);
  return {
    inFlight,
    ...metalFlows(field),
    z,
    settling,
    solidBuildUp,
    windowSaturation: (atWindow * field.pressure) / saturation,
  };
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
