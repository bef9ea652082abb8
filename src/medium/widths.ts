/** The widths of one line: Doppler, natural, self (resonance) and buffer-gas, and the collisional shift. */
import type { Line } from "../reference/index.ts";
import { BOLTZMANN, CLASSICAL_ELECTRON_RADIUS, linesOf, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { VapourState } from "./api.ts";
import { type GasBroadening, gasBroadening } from "./gas-broadening.ts";

/** 1/e half width of the Doppler profile, rad/s: σ = ω √(2 k_B T/M)/c; mass in kg, ω in rad/s. */
export function dopplerWidth(angularFrequency: number, temperature: number, mass: number): number {
  return (angularFrequency * Math.sqrt((2 * BOLTZMANN * temperature) / mass)) / SPEED_OF_LIGHT;
}

/** Natural FWHM, rad/s: total decay rate of the upper level; the lower levels of the tables do not decay by dipole light. */
export function naturalWidth(line: Line): number {
  return line.upperDecayRate;
}

/**
 * Resonance broadening per density of the metal, FWHM, rad·m³/s: K = 2 r_e c λ f √(g_l/g_u) for a line from the ground
 * state (impact limit; E. L. Lewis, Phys. Rep. 58, 1 (1980); data/broadening.json "resonance-impact"). For a line
 * between other levels the upper level is broadened by what couples it to the ground state: the same sum over those lines.
 */
export function selfBroadening(line: Line): number {
  const coupled =
    line.lowerEnergy === 0
      ? [line]
      : linesOf(line.element).filter(
          (each) => each.lowerEnergy === 0 && each.upper.label === line.upper.label,
        );
  return coupled.reduce(
    (sum, each) =>
      sum +
      2 *
        CLASSICAL_ELECTRON_RADIUS *
        SPEED_OF_LIGHT *
        each.wavelength *
        each.oscillatorStrength *
        Math.sqrt(each.gLower / each.gUpper),
    0,
  );
}

/** What widens and shifts a line in a state of the vapour; all rad/s. */
export interface LineWidths {
  readonly natural: number;
  readonly self: number;
  readonly gas: number;
  /** sum of the three: Lorentz FWHM */
  readonly lorentz: number;
  /** positive to the blue */
  readonly shift: number;
  /** undefined without a buffer gas */
  readonly broadening: GasBroadening | undefined;
}

export function lineWidths(line: Line, state: VapourState): LineWidths {
  const { gas, overrides, temperature } = state;
  const present = gas !== undefined && gas.pressure > 0;
  const broadening = present ? gasBroadening(line, gas.species, temperature) : undefined;
  const gasDensity = present ? gas.pressure / (BOLTZMANN * temperature) : 0;
  const given = overrides?.gasWidth;
  const natural = naturalWidth(line);
  const self = selfBroadening(line) * state.density;
  const gasPart = 2 * Math.PI * (given ?? (broadening?.width ?? 0) * gasDensity);
  return {
    natural,
    self,
    gas: gasPart,
    lorentz: natural + self + gasPart,
    shift: 2 * Math.PI * (broadening?.shift ?? 0) * gasDensity,
    broadening,
  };
}
