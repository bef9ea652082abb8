/**
 * Susceptibility of a vapour summed over its components, with its derivative: the hot loop of the medium room.
 *
 * χ(ω) = Σ A_q·[(i√π/σ) w(z) + 1/(ω_q + ω)],  z = (ω − ω_q − δ + iγ/2)/σ,  A_q = N·population·f·w_q·e²/(2 m_e ε0 ω_q).
 */
import { pow } from "../numerics/elementary/index.ts";
import { createFastKernel, type FastKernel } from "../numerics/fast-kernel.ts";
import { addLines, addLinesWithSlope, PACKED } from "../numerics/line-sum.ts";
import { CLASSICAL_ELECTRON_RADIUS, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { LineComponent } from "./api.ts";

/** Components packed for the loop: `PACKED` numbers each, ω_q, ω_q + δ, γ/2, σ (rad/s), A (rad/s). */
export function packComponents(components: readonly LineComponent[], density: number): Float64Array {
  const packed = new Float64Array(PACKED * components.length);
  // e²/(2 m_e ε0) = 2π r_e c²
  const perStrength = 2 * Math.PI * CLASSICAL_ELECTRON_RADIUS * pow(SPEED_OF_LIGHT, 2) * density;
  components.forEach((each, k) => {
    const omega = (2 * Math.PI * SPEED_OF_LIGHT) / each.wavelength;
    const strength = each.population * each.oscillatorStrength * each.weight;
    packed.set(
      [omega, omega + each.shift, each.lorentzWidth / 2, each.dopplerWidth, (perStrength * strength) / omega],
      PACKED * k,
    );
  });
  return packed;
}

/** Angular frequencies, rad/s, of vacuum wavelengths in m. */
export function angularFrequencies(wavelengths: Float64Array): Float64Array {
  return wavelengths.map((wavelength) => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength);
}

/** χ over angular frequencies: real and imaginary part, 1. */
export interface Susceptibility {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Components times frequencies from which the WebAssembly kernel is worth its start. */
const WORTH = 20_000;
const kernel: { asked: boolean; fast: FastKernel | undefined } = { asked: false, fast: undefined };

/**
 * χ at many frequencies. Large sums go to the WebAssembly kernel where the machine has one: the same bits, sooner, so
 * that no answer depends on it.
 */
export function susceptibility(packed: Float64Array, omegas: Float64Array): Susceptibility {
  const re = new Float64Array(omegas.length);
  const im = new Float64Array(omegas.length);
  if (packed.length * omegas.length >= WORTH * PACKED) {
    if (!kernel.asked) kernel.fast = createFastKernel();
    kernel.asked = true;
    if (kernel.fast !== undefined) {
      kernel.fast.addLines(packed, omegas, re, im);
      return { re, im };
    }
  }
  addLines(packed, omegas, re, im);
  return { re, im };
}

/** χ with dχ/dω, s. */
export interface SusceptibilityWithSlope extends Susceptibility {
  readonly slopeRe: Float64Array;
  readonly slopeIm: Float64Array;
}

export function susceptibilityWithSlope(packed: Float64Array, omegas: Float64Array): SusceptibilityWithSlope {
  const make = () => new Float64Array(omegas.length);
  const sums = { re: make(), im: make(), slopeRe: make(), slopeIm: make() };
  addLinesWithSlope(packed, omegas, sums.re, sums.im, sums.slopeRe, sums.slopeIm);
  return sums;
}
