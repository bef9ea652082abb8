/** What a person asks about the tube before lighting the burner, in numbers and warnings. */
import gases from "../../data/gases.json" with { type: "json" };
import { BOLTZMANN } from "../reference/index.ts";
import type { VesselNumbers } from "./api.ts";
import { beamColumns, checkHeight, midLengthSpline, supersaturationAt } from "./columns.ts";
import type { VapourField } from "./field.ts";
import { metalFlows } from "./flows.ts";
import { gasProperties, meanFreePath, rayleighNumber } from "./gas.ts";
import { saturationPressure } from "../medium/pressure.ts";
import { midLengthWall } from "./wall.ts";
import { prismNumbers } from "./prism-columns.ts";
import { vesselWarnings } from "./warnings.ts";

/**
 * Local values at mid-length on a beam `height` m above the axis, and numbers of the whole tube. Rayleigh number on the
 * bore with the bottom–top difference at the mean of the two; Knudsen number = mean free path at the beam / bore;
 * charge life = charge / (rate at which metal settles below its melting point, whence it does not run back).
 * Refuses heights outside the bore.
 */
export function vesselNumbers(field: VapourField, height = 0): VesselNumbers {
  const { grid, input, pressure } = field;
  checkHeight(height, grid.radius);
  if (input.contents?.kind === "prism") return prismNumbers(field, input.contents, height);
  const density = midLengthSpline(field, field.density, field.wallDensity);
  const temperature = midLengthSpline(field, field.gasTemperature, field.wallTemperature);
  const fraction = midLengthSpline(field, field.moleFraction, field.wallMoleFraction);
  const n = Math.max(0, density.value(height));
  // Rounding of a level density is no slope.
  const steep = density.derivative(height);
  const slope = Math.abs(steep) * input.bore < 1e-9 * n ? 0 : steep;
  const t = temperature.value(height);
  const x = Math.min(1, Math.max(0, fraction.value(height)));
  const tSlope = temperature.derivative(height);

  // The saturation-following density and its gradient, by the chain rule along the gas's own temperature.
  const saturated = (kelvin: number): number =>
    saturationPressure(input.element, kelvin, input.pressureEquation) / (BOLTZMANN * kelvin);
  const dt = 1e-4 * t;
  const saturatedSlope = ((saturated(t + dt) - saturated(t - dt)) / (2 * dt)) * tSlope;

  const gas = gasProperties(input.gas);
  const ends = midLengthWall(field.wall, grid);
  const flows = metalFlows(field);
  const columns = beamColumns(field, Float64Array.of(height));
  const numbers = {
    height,
    density: n,
    gasTemperature: t,
    gasPartialPressure: (1 - x) * pressure,
    densityGradient: slope,
    scaleHeight: slope === 0 ? Infinity : n / Math.abs(slope),
    hotPressure: pressure,
    supersaturation: columns.supersaturation[0],
    midSupersaturation: supersaturationAt(field, x, t),
    saturatedDensity: Math.min(n, saturated(t)),
    saturatedGradient: saturatedSlope,
    rayleigh: rayleighNumber(gas, input.bore, pressure, ends.bottom, ends.top, gases.standard_gravity.value),
    knudsen: meanFreePath(gas, t, pressure) / input.bore,
    evaporation: flows.evaporation,
    solidLoss: flows.solidLoss,
    chargeLife:
      input.charge !== undefined && input.charge > 0 && flows.solidLoss > 0
        ? input.charge / flows.solidLoss
        : null,
  };
  return { ...numbers, warnings: vesselWarnings(field, numbers) };
}
