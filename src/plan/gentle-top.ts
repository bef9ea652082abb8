/** How cool the top of the tube must be: enough for the bend, no cooler, since a colder top only makes smoke. */
import { saturationPressure } from "../medium/index.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { VesselInput } from "../vessel/index.ts";
import { conductivity, gasProperties, pairDiffusion } from "../vessel/gas.ts";

type Tube = Pick<VesselInput, "element" | "gas" | "pressureEquation">;

const STEPS = 64;

/**
 * Density gradient on the axis of a long half-hot bore, closed form: −dN/dy = g · 2/(πR) with g = dN/dh at h = ½.
 *
 * Wall temperature and wall mole fraction jump at the same two places, so gas temperature and mole fraction are both
 * functions of one harmonic h (1 below, 0 above; slope 2/(πR) on the axis): dh ∝ κ(T) dT and dx/dh ∝ T^(1−m). Then
 * N = x p/(kT). For metal thin in the gas (x ≪ 1); the gas cools toward the top and so gets denser, which is why the
 * gradient is not simply N(below) − N(above): it has a largest value at a top that is not the coldest one.
 * @param bottom wall temperature below, K
 * @param top wall temperature above, K, ≤ bottom
 * @returns g, m⁻³
 */
export function layering(tube: Tube, bottom: number, top: number): number {
  const gas = gasProperties(tube.gas);
  const power = 1 - pairDiffusion(tube.element, gas).exponent;
  const below = saturationPressure(tube.element, bottom, tube.pressureEquation);
  const above = saturationPressure(tube.element, top, tube.pressureEquation);
  if (bottom - top < 1e-6) return 0;
  // Running integrals over T, midpoint rule: heat potential, and the vapour's own.
  const heat = new Float64Array(STEPS + 1);
  const vapour = new Float64Array(STEPS + 1);
  const step = (bottom - top) / STEPS;
  for (let i = 0; i < STEPS; i++) {
    const t = top + (i + 0.5) * step;
    const kappa = conductivity(gas, t);
    heat[i + 1] = heat[i] + kappa * step;
    vapour[i + 1] = vapour[i] + kappa * t ** power * step;
  }
  const half = heat[STEPS] / 2;
  let i = 0;
  while (heat[i + 1] < half) i++;
  const part = (half - heat[i]) / (heat[i + 1] - heat[i]);
  const t = top + (i + part) * step;
  const share = (vapour[i] + part * (vapour[i + 1] - vapour[i])) / vapour[STEPS];
  const pressure = above + (below - above) * share;
  const pressureSlope = ((below - above) * t ** power * heat[STEPS]) / vapour[STEPS];
  const temperatureSlope = heat[STEPS] / conductivity(gas, t);
  return (pressureSlope / t - (pressure * temperatureSlope) / (t * t)) / BOLTZMANN;
}

/**
 * The warmest top, K, that keeps a share of the largest gradient any top could give (from 0 °C up), by `layering`.
 * Scan in steps of 2 K, then bisection to 0.01 K.
 * @param share 0 < share < 1, usually 0.97
 */
export function gentleTop(tube: Tube, bottom: number, share = 0.97): number {
  const coldest = Math.min(273.15, bottom - 2);
  let largest = 0;
  let at = coldest;
  for (let top = coldest; top < bottom; top += 2) {
    const g = layering(tube, bottom, top);
    if (g > largest) {
      largest = g;
      at = top;
    }
  }
  let low = at;
  let high = bottom;
  while (high - low > 0.01) {
    const middle = (low + high) / 2;
    if (layering(tube, bottom, middle) >= share * largest) low = middle;
    else high = middle;
  }
  return low;
}
