/** From the state of a vapour to its index, absorption and velocities. */
import { SPEED_OF_LIGHT } from "../reference/index.ts";
import type { LineComponent, OpticalResponse, PerAtom, VapourState } from "./api.ts";
import { vapourComponents } from "./components.ts";
import { checkWavelengths } from "./state.ts";
import {
  angularFrequencies,
  packComponents,
  type SusceptibilityWithSlope,
  susceptibility,
  susceptibilityWithSlope,
} from "./susceptibility.ts";

/**
 * Refractivity, absorption, phase velocity and group index of the vapour alone (the buffer gas widens and shifts its
 * lines; its own refractivity is left to the caller).
 *
 * n − 1 = χ/(1 + √(1 + χ)), α = 2ω Im n/c, v_phase/c = 1/Re n, n_group = Re n + ω d Re n/dω.
 * Agrees with an independent evaluation by other authors' w(z) to 10⁻⁶ of |χ| and better (test/outside/vapour-index).
 *
 * @param wavelengths vacuum, m, > 0, in any order
 * @throws Refusal as `vapourComponents`, and for wavelengths that are not positive
 */
export function vapourResponse(state: VapourState, wavelengths: Float64Array): OpticalResponse {
  return responseOf(vapourComponents(state), state.density, wavelengths);
}

/** As `vapourResponse`, from components already at hand (several elements: concatenate after scaling, see `mixture.ts`). */
export function responseOf(
  components: readonly LineComponent[],
  density: number,
  wavelengths: Float64Array,
): OpticalResponse {
  checkWavelengths(wavelengths);
  const omegas = angularFrequencies(wavelengths);
  const chi = susceptibilityWithSlope(packComponents(components, density), omegas);
  return responseFromSusceptibility(wavelengths, omegas, chi);
}

/**
 * Index and velocities from χ and dχ/dω.
 * The square root is taken so that 1 + χ near the negative axis and tiny χ keep their digits.
 */
export function responseFromSusceptibility(
  wavelengths: Float64Array,
  omegas: Float64Array,
  chi: SusceptibilityWithSlope,
): OpticalResponse {
  const count = wavelengths.length;
  const refractivity = new Float64Array(count);
  const absorption = new Float64Array(count);
  const phaseVelocity = new Float64Array(count);
  const groupIndex = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const cRe = chi.re[i];
    const cIm = chi.im[i];
    // n = √(1 + χ)
    const a = 1 + cRe;
    const size = Math.sqrt(a * a + cIm * cIm);
    let nRe: number;
    let nIm: number;
    if (a >= 0) {
      nRe = Math.sqrt((size + a) / 2);
      nIm = cIm / (2 * nRe);
    } else {
      nIm = Math.sqrt((size - a) / 2);
      nRe = cIm / (2 * nIm);
    }
    // χ/(1 + n)
    const bRe = 1 + nRe;
    const norm = 1 / (bRe * bRe + nIm * nIm);
    const minusOne = (cRe * bRe + cIm * nIm) * norm;
    refractivity[i] = minusOne;
    absorption[i] = (2 * omegas[i] * ((cIm * bRe - cRe * nIm) * norm)) / SPEED_OF_LIGHT;
    phaseVelocity[i] = 1 / (1 + minusOne);
    // dn/dω = χ′/(2n)
    const steep = (chi.slopeRe[i] * nRe + chi.slopeIm[i] * nIm) / (2 * size);
    groupIndex[i] = 1 + minusOne + omegas[i] * steep;
  }
  return { wavelength: wavelengths, refractivity, absorption, phaseVelocity, groupIndex };
}

/** n − 1 and absorption alone: what a picture needs, in a third of the time of `vapourResponse`. */
export interface IndexAndAbsorption {
  /** n − 1, 1 */
  readonly refractivity: Float64Array;
  /** 1/m */
  readonly absorption: Float64Array;
}

/** Refractivity and absorption of the vapour alone, as `vapourResponse` gives them to the last few bits. */
export function vapourIndex(state: VapourState, wavelengths: Float64Array): IndexAndAbsorption {
  checkWavelengths(wavelengths);
  const omegas = angularFrequencies(wavelengths);
  const chi = susceptibility(packComponents(vapourComponents(state), state.density), omegas);
  indexInPlace(omegas, chi.re, chi.im);
  return { refractivity: chi.re, absorption: chi.im };
}

/** |χ|² below which five terms of √(1 + χ) − 1 are exact to rounding. */
const SMALL = 1e-6;

/** Turns Re χ, Im χ into n − 1 and α = 2ω Im n/c where they stand. Allocates nothing. */
export function indexInPlace(omegas: Float64Array, re: Float64Array, im: Float64Array): void {
  const perOmega = 2 / SPEED_OF_LIGHT;
  for (let i = 0; i < omegas.length; i++) {
    const a = re[i];
    const b = im[i];
    if (a * a + b * b < SMALL) {
      // χ(1/2 − χ/8 + χ²/16 − 5χ³/128 + 7χ⁴/256)
      let x = 0.02734375 * a - 0.0390625;
      let y = 0.02734375 * b;
      let next = x * a - y * b + 0.0625;
      y = x * b + y * a;
      x = next * a - y * b - 0.125;
      y = next * b + y * a;
      next = x * a - y * b + 0.5;
      y = x * b + y * a;
      re[i] = next * a - y * b;
      im[i] = (next * b + y * a) * perOmega * omegas[i];
      continue;
    }
    const size = Math.sqrt((1 + a) * (1 + a) + b * b);
    const root = Math.sqrt((size + Math.abs(1 + a)) / 2);
    const nRe = 1 + a >= 0 ? root : b / (2 * root);
    const nIm = 1 + a >= 0 ? b / (2 * root) : root;
    const norm = 1 / ((1 + nRe) * (1 + nRe) + nIm * nIm);
    re[i] = (a * (1 + nRe) + b * nIm) * norm;
    im[i] = (b * (1 + nRe) - a * nIm) * norm * perOmega * omegas[i];
  }
}

/**
 * (n − 1)/N and α/N of the vapour alone in the limit of small χ, χ/2 and ω Im χ/c per atom: what is summed along a beam.
 * `density` of the state enters through self-broadening only.
 */
export function perAtom(state: VapourState, wavelengths: Float64Array): PerAtom {
  checkWavelengths(wavelengths);
  const count = wavelengths.length;
  const omegas = angularFrequencies(wavelengths);
  const chi = susceptibility(packComponents(vapourComponents(state), 1), omegas);
  const refractivityPerDensity = new Float64Array(count);
  const crossSection = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    refractivityPerDensity[i] = chi.re[i] / 2;
    crossSection[i] = (omegas[i] * chi.im[i]) / SPEED_OF_LIGHT;
  }
  return { refractivityPerDensity, crossSection };
}
