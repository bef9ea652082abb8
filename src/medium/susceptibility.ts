/**
 * Susceptibility of a vapour summed over its components, with its derivative: the hot loop of the medium room.
 *
 * χ(ω) = Σ A_q·[(i√π/σ) w(z) + 1/(ω_q + ω)],  z = (ω − ω_q − δ + iγ/2)/σ,  A_q = N·population·f·w_q·e²/(2 m_e ε0 ω_q).
 * Beyond |z| = 100 the first term is summed straight from its series −(1/Δ)·Σ (2k − 1)!!/2^k (σ/Δ)^(2k),
 * Δ = ω − ω_q − δ + iγ/2: no division by σ, few terms, and no rounding lost however far the wing.
 */
import { evaluate, evaluateWithSlope } from "../numerics/faddeeva.ts";
import { faddeevaTable } from "../numerics/faddeeva-table.ts";
import { CLASSICAL_ELECTRON_RADIUS, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { LineComponent } from "./api.ts";

/** Numbers per component in the packed list. */
export const PACKED = 5;

/** Components packed for the loop, `PACKED` numbers each: ω_q, ω_q + δ, γ/2, σ (rad/s), A (rad/s). */
export function packComponents(components: readonly LineComponent[], density: number): Float64Array {
  const packed = new Float64Array(PACKED * components.length);
  // e²/(2 m_e ε0) = 2π r_e c²
  const perStrength = 2 * Math.PI * CLASSICAL_ELECTRON_RADIUS * SPEED_OF_LIGHT ** 2 * density;
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

const SQRT_PI = Math.sqrt(Math.PI);
/** |z|² from which the wing series is used. */
const WING = 1e4;
const scratch = new Float64Array(4);

/**
 * Adds χ of all packed components to `chi` (interleaved re, im; 2 per frequency; 1). Allocates nothing; the arrays must
 * not overlap.
 */
export function addSusceptibility(packed: Float64Array, omegas: Float64Array, chi: Float64Array): void {
  const table = faddeevaTable();
  const count = omegas.length;
  for (let k = 0; k < packed.length; k += PACKED) {
    const own = packed[k];
    const centre = packed[k + 1];
    const half = packed[k + 2];
    const sigma = packed[k + 3];
    const amplitude = packed[k + 4];
    const s2 = sigma * sigma;
    const wing = WING * s2;
    const perSigma = 1 / sigma;
    const core = (amplitude * SQRT_PI) / sigma;
    for (let i = 0; i < count; i++) {
      const omega = omegas[i];
      const d = omega - centre;
      const r2 = d * d + half * half;
      const sum = own + omega;
      if (r2 >= wing) {
        // one division for both: 1/|Δ|² and 1/(ω_q + ω)
        const both = 1 / (r2 * sum);
        const inverse = both * sum;
        const u = d * inverse;
        const v = half * inverse;
        // σ²/Δ² = p − i·q
        const p = s2 * (u - v) * (u + v);
        const q = 2 * s2 * u * v;
        // 1 + t/2 + 3t²/4 + 15t³/8 + 105t⁴/16 by Horner's rule
        let re = 1.875 + 6.5625 * p;
        let im = -6.5625 * q;
        let next = 0.75 + re * p + im * q;
        im = im * p - re * q;
        re = 0.5 + next * p + im * q;
        im = im * p - next * q;
        next = 1 + re * p + im * q;
        im = im * p - re * q;
        re = next;
        // −A/Δ·(re + i·im), 1/Δ = u − i·v
        chi[2 * i] += amplitude * (both * r2 - (u * re + v * im));
        chi[2 * i + 1] += amplitude * (v * re - u * im);
      } else {
        evaluate(d * perSigma, half * perSigma, table, scratch, 0);
        chi[2 * i] += amplitude / sum - core * scratch[1];
        chi[2 * i + 1] += core * scratch[0];
      }
    }
  }
}

/** As `addSusceptibility`, and adds dχ/dω (s) to `slope`, laid out like `chi`. */
export function addSusceptibilityAndSlope(
  packed: Float64Array,
  omegas: Float64Array,
  chi: Float64Array,
  slope: Float64Array,
): void {
  const table = faddeevaTable();
  const count = omegas.length;
  for (let k = 0; k < packed.length; k += PACKED) {
    const own = packed[k];
    const centre = packed[k + 1];
    const half = packed[k + 2];
    const sigma = packed[k + 3];
    const amplitude = packed[k + 4];
    const s2 = sigma * sigma;
    const wing = WING * s2;
    const perSigma = 1 / sigma;
    const core = (amplitude * SQRT_PI) / sigma;
    for (let i = 0; i < count; i++) {
      const omega = omegas[i];
      const d = omega - centre;
      const r2 = d * d + half * half;
      const counter = 1 / (own + omega);
      let re: number;
      let im: number;
      let slopeRe: number;
      let slopeIm: number;
      if (r2 >= wing) {
        const u = d / r2;
        const v = half / r2;
        const p = s2 * (u - v) * (u + v);
        const q = -2 * s2 * u * v;
        // t² and t³, t = σ²/Δ² = p + i·q; the fourth power is below 7·10⁻¹⁶
        const p2 = p * p - q * q;
        const q2 = 2 * p * q;
        const p3 = p2 * p - q2 * q;
        const q3 = p2 * q + q2 * p;
        const sumRe = 1 + 0.5 * p + 0.75 * p2 + 1.875 * p3;
        const sumIm = 0.5 * q + 0.75 * q2 + 1.875 * q3;
        const steepRe = 1 + 1.5 * p + 3.75 * p2 + 13.125 * p3;
        const steepIm = 1.5 * q + 3.75 * q2 + 13.125 * q3;
        // −1/Δ·sum and +1/Δ²·steep
        re = -(u * sumRe + v * sumIm);
        im = v * sumRe - u * sumIm;
        const w = (u - v) * (u + v);
        const x = -2 * u * v;
        slopeRe = w * steepRe - x * steepIm;
        slopeIm = w * steepIm + x * steepRe;
        re *= amplitude;
        im *= amplitude;
        slopeRe *= amplitude;
        slopeIm *= amplitude;
      } else {
        evaluateWithSlope(d * perSigma, half * perSigma, table, scratch, 0);
        re = -core * scratch[1];
        im = core * scratch[0];
        slopeRe = -core * perSigma * scratch[3];
        slopeIm = core * perSigma * scratch[2];
      }
      chi[2 * i] += re + amplitude * counter;
      chi[2 * i + 1] += im;
      slope[2 * i] += slopeRe - amplitude * counter * counter;
      slope[2 * i + 1] += slopeIm;
    }
  }
}
