/** Heat given off by the outside of the tube, W/m² of outer wall. */
import { cbrt, log, pow } from "../numerics/elementary/index.ts";
import gases from "../../data/gases.json" with { type: "json" };
import { ATMOSPHERE, GAS_CONSTANT, STEFAN_BOLTZMANN } from "../reference/index.ts";
import { conductivity, type GasProperties, gasProperties, viscosity } from "./gas.ts";
import { type Insulation, tabulated } from "./materials.ts";
import type { Cooling } from "./shell-api.ts";

const AIR = gasProperties("air");

/** Prandtl number of air, 1, and its kinematic viscosity, m²/s, at the pressure of an atmosphere. */
function airAt(
  temperature: number,
  air: GasProperties = AIR,
): { readonly prandtl: number; readonly nu: number; readonly k: number } {
  const eta = viscosity(air, temperature);
  const k = conductivity(air, temperature);
  const density = (ATMOSPHERE * air.molarMass) / (GAS_CONSTANT * temperature);
  return { prandtl: (eta * air.heatCapacity) / k, nu: eta / density, k };
}

/**
 * Coefficient of a horizontal cylinder in air at rest, W/(m² K), film properties:
 * Nu = {0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}², Ra ≤ 1e12
 * (Churchill & Chu, Int. J. Heat Mass Transfer 18, 1049 (1975); from memory).
 */
export function stillAirCoefficient(diameter: number, surface: number, room: number): number {
  const film = 0.5 * (surface + room);
  const { prandtl, nu, k } = airAt(film);
  const ra =
    (gases.standard_gravity.value * Math.abs(surface - room) * pow(diameter, 3) * prandtl) / (film * nu * nu);
  const root = 0.6 + (0.387 * pow(ra, 1 / 6)) / pow(1 + pow(0.559 / prandtl, 9 / 16), 8 / 27);
  return (root * root * k) / diameter;
}

/**
 * Coefficient of a cylinder in a cross wind, W/(m² K), film properties:
 * Nu = 0.3 + 0.62 Re^½ Pr^⅓ / [1 + (0.4/Pr)^⅔]^¼ · [1 + (Re/282000)^⅝]^⅘, Re Pr ≥ 0.2
 * (Churchill & Bernstein, J. Heat Transfer 99, 300 (1977); from memory).
 */
export function blownAirCoefficient(diameter: number, surface: number, room: number, speed: number): number {
  const { prandtl, nu, k } = airAt(0.5 * (surface + room));
  const re = (speed * diameter) / nu;
  const nusselt =
    0.3 +
    ((0.62 * Math.sqrt(re) * cbrt(prandtl)) / pow(1 + pow(0.4 / prandtl, 2 / 3), 0.25)) *
      pow(1 + pow(re / 282000, 0.625), 0.8);
  return (nusselt * k) / diameter;
}

/** What a part of the outside loses at a wall temperature, W/m². `liquid` is the liquid's mean temperature, K. */
export function lossFlux(
  cooling: Cooling,
  diameter: number,
  emissivity: number,
  wall: number,
  room: number,
  liquid: number,
): number {
  const radiation = emissivity * STEFAN_BOLTZMANN * (pow(wall, 4) - pow(room, 4));
  switch (cooling.kind) {
    case "still-air":
      return stillAirCoefficient(diameter, wall, room) * (wall - room) + radiation;
    case "fins":
      return cooling.areaFactor * stillAirCoefficient(diameter, wall, room) * (wall - room) + radiation;
    case "blown-air":
      return blownAirCoefficient(diameter, wall, room, cooling.speed) * (wall - room) + radiation;
    case "liquid":
      return cooling.conductance * (wall - liquid);
    case "fixed":
      return cooling.coefficient * (wall - room);
  }
}

/** Loss through insulation to still air, W/m² of wall; ten watts per square metre and kelvin on its outside. */
export function insulatedFlux(
  insulation: Insulation,
  thickness: number,
  diameter: number,
  wall: number,
  room: number,
): number {
  // Plane layer on the outer wall, widened by the mean of inner and outer circumference.
  const k = tabulated(insulation, insulation.conductivity, 0.5 * (wall + room));
  const outer = diameter + 2 * thickness;
  const layer = (0.5 * diameter * log(outer / diameter)) / k;
  const surface = diameter / (outer * OUTSIDE);
  return (wall - room) / (layer + surface);
}

/** Still air and radiation together on a lukewarm surface, W/(m² K); common practice, no source. */
const OUTSIDE = 10;
