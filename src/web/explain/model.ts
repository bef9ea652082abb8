/** Small classical formulas of the explaining views. Pure. */
export const SPEED_OF_LIGHT = 299_792_458;

export interface Swing {
  /** amplitude over that at resonance, 0…1 */
  readonly amplitude: number;
  /** lag behind the driving field, rad, 0…π */
  readonly lag: number;
}

/**
 * A driven, damped oscillator near its resonance: x ∝ 1/(ω0 − ω − iγ/2), so amplitude 1/√(1 + u²) and lag π/2 + atan u with
 * u = 2(ω − ω0)/γ. Textbook result, e.g. Feynman Lectures I, chapter 23 (from memory).
 * @param wavelength vacuum, m
 * @param resonance vacuum, m
 * @param width γ, FWHM, rad/s
 */
export function swingAt(wavelength: number, resonance: number, width: number): Swing {
  const detuning = 2 * Math.PI * SPEED_OF_LIGHT * (1 / wavelength - 1 / resonance);
  const u = (2 * detuning) / width;
  return { amplitude: 1 / Math.hypot(1, u), lag: Math.PI / 2 + Math.atan(u) };
}

/** Width of a line in wavelength, m, from its FWHM in rad/s. */
export function widthInWavelength(wavelength: number, width: number): number {
  return (wavelength * wavelength * width) / (2 * Math.PI * SPEED_OF_LIGHT);
}

/**
 * Where two undamped oscillators cancel between their lines: f1 λ1²/(λ² − λ1²) + f2 λ2²/(λ² − λ2²) = 0, which gives
 * λ² = λ1²λ2² (f1 + f2)/(f1 λ1² + f2 λ2²).
 * @param ratio f(shorter)/f(longer), > 0
 */
export function cancellation(shorter: number, longer: number, ratio: number): number {
  const a = shorter * shorter;
  const b = longer * longer;
  return Math.sqrt((a * b * (ratio + 1)) / (ratio * a + b));
}

/** n − 1 of two undamped oscillators over r_e N/2π, at each wavelength, m². */
export function pairIndex(
  wavelengths: Float64Array,
  shorter: number,
  longer: number,
  strengths: readonly [shorter: number, longer: number],
): Float64Array {
  return wavelengths.map((w) => {
    const s = w * w;
    const one = (line: number, f: number): number => (f * line * line * s) / (s - line * line);
    return one(shorter, strengths[0]) + one(longer, strengths[1]);
  });
}
