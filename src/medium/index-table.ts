/** What the `index` command prints: the optics of one vapour over wavelengths, with everything needed to recompute it. */
import { Refusal } from "../quantity/index.ts";
import { BOLTZMANN, linesOf } from "../reference/index.ts";
import type { BufferGas, LineComponent, LineStructure, MediumOverrides, VapourState } from "./api.ts";
import { gasRefractivityPerDensity, hasGasRefractivity } from "./buffer-gas.ts";
import { vapourComponents } from "./components.ts";
import { type Saturation, saturation } from "./pressure.ts";
import { responseFromSusceptibility } from "./response.ts";
import { checkWavelengths } from "./state.ts";
import {
  angularFrequencies,
  packComponents,
  type SusceptibilityWithSlope,
  susceptibilityWithSlope,
} from "./susceptibility.ts";
import { type MediumWarning, pressureWarnings, vapourWarnings } from "./warnings.ts";

export interface IndexOptions {
  /** element symbol */
  readonly element: string;
  /** gas temperature, K; default `saturatedAt` */
  readonly temperature?: number;
  /** number density, m⁻³; exactly one of `density` and `saturatedAt` */
  readonly density?: number;
  /** temperature of the metal, K: p = p_sat there, N = p/(k_B · temperature) */
  readonly saturatedAt?: number;
  /** vacuum wavelengths, m */
  readonly wavelengths: Float64Array;
  /** names a buffer gas: widens and shifts the lines, and its own refractivity is added */
  readonly gas?: BufferGas;
  /** default "hyperfine" */
  readonly structure?: LineStructure;
  readonly overrides?: MediumOverrides;
}

export interface IndexTable {
  readonly element: string;
  /** gas temperature, K */
  readonly temperature: number;
  /** m⁻³ */
  readonly density: number;
  /** vacuum, m */
  readonly wavelength: Float64Array;
  /** n − 1 */
  readonly refractivity: Float64Array;
  /** 1/m */
  readonly absorption: Float64Array;
  /** in c */
  readonly phaseVelocity: Float64Array;
  readonly groupIndex: Float64Array;
  /** what the four were computed from (the buffer gas's own refractivity, where named, comes on top) */
  readonly components: readonly LineComponent[];
  /** the saturation pressure used, where asked for */
  readonly saturation: Saturation | undefined;
  readonly warnings: readonly MediumWarning[];
}

/**
 * Index, absorption and velocities of all listed lines of an element; see `IndexOptions` and `vapourResponse`.
 *
 * @throws Refusal where not exactly one of density and saturatedAt is given, where neither temperature nor saturatedAt
 *   is, and as `vapourResponse`
 */
export function indexTable(options: IndexOptions): IndexTable {
  const { wavelengths } = options;
  checkWavelengths(wavelengths);
  const { state, saturated } = stateOf(options);
  const components = vapourComponents(state);
  const omegas = angularFrequencies(wavelengths);
  const chi = susceptibilityWithSlope(packComponents(components, state.density), omegas);
  const gasAdded = addGas(state, wavelengths, omegas, chi);
  const response = responseFromSusceptibility(wavelengths, omegas, chi);
  const warnings = [
    ...(saturated === undefined ? [] : pressureWarnings(state.element, options.saturatedAt!, saturated)),
    ...vapourWarnings(state, farthest(state.element, wavelengths)),
    ...(gasAdded ? [] : [gasLeftOut(state)]),
  ];
  const { element, temperature, density } = state;
  return { element, temperature, density, ...response, components, saturation: saturated, warnings };
}

function stateOf(options: IndexOptions): { state: VapourState; saturated: Saturation | undefined } {
  const { element, density, saturatedAt } = options;
  const temperature = options.temperature ?? saturatedAt;
  if ((density === undefined) === (saturatedAt === undefined)) {
    throw new Refusal({
      code: "density-or-saturation",
      field: "density",
      received: density === undefined ? "neither density nor saturated-at" : "both density and saturated-at",
      expected: "exactly one of density and saturated-at",
    });
  }
  if (temperature === undefined) {
    throw new Refusal({
      code: "no-temperature",
      field: "temperature",
      received: "nothing",
      expected: "the temperature of the gas",
      hint: "it sets the Doppler width",
    });
  }
  const saturated =
    saturatedAt === undefined
      ? undefined
      : saturation(element, saturatedAt, options.overrides?.pressureEquation);
  const state = {
    element,
    temperature,
    density: saturated === undefined ? density! : saturated.pressure / (BOLTZMANN * temperature),
    ...(options.gas === undefined ? {} : { gas: options.gas }),
    ...(options.structure === undefined ? {} : { structure: options.structure }),
    ...(options.overrides === undefined ? {} : { overrides: options.overrides }),
  };
  return { state, saturated };
}

/** Adds χ_gas = n² − 1 and its slope; false where no formula is stored for the gas or a wavelength. */
function addGas(
  state: VapourState,
  wavelengths: Float64Array,
  omegas: Float64Array,
  chi: SusceptibilityWithSlope,
): boolean {
  const { gas, temperature } = state;
  if (gas === undefined || gas.pressure === 0) return true;
  const inRange = wavelengths.every((each) => each > GAS_SHORTEST && each < GAS_LONGEST);
  if (!hasGasRefractivity(gas.species) || !inRange) return false;
  const density = gas.pressure / (BOLTZMANN * temperature);
  for (let i = 0; i < wavelengths.length; i++) {
    const at = (wavelength: number) => density * gasRefractivityPerDensity(gas.species, wavelength);
    const here = at(wavelengths[i]);
    // the gas disperses so little that a step of 10⁻⁴ leaves the derivative good to 10⁻⁶
    const step = 1e-4;
    const perWavelength =
      (at(wavelengths[i] * (1 + step)) - at(wavelengths[i] * (1 - step))) / (2 * step * wavelengths[i]);
    chi.re[i] += here * (2 + here);
    // dλ/dω = −λ/ω
    chi.slopeRe[i] += (2 * (1 + here) * perWavelength * -wavelengths[i]) / omegas[i];
  }
  return true;
}

/** Range of the gas formulas, m, less the step of the derivative. */
const GAS_SHORTEST = 200.1e-9;
const GAS_LONGEST = 2.699e-6;

function gasLeftOut(state: VapourState): MediumWarning {
  const sentence = `No refractivity of ${state.gas?.species ?? "the gas"} is stored for these wavelengths: n − 1 is that of the vapour alone.`;
  return { code: "gas-refractivity-left-out", sentence, lines: [] };
}

/** Largest distance of a wavelength from the nearest line, m. */
function farthest(element: string, wavelengths: Float64Array): number {
  const centres = linesOf(element).map((line) => line.wavelength);
  return wavelengths.reduce(
    (largest, each) => Math.max(largest, Math.min(...centres.map((centre) => Math.abs(each - centre)))),
    0,
  );
}
