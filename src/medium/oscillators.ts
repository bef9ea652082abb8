/** The pure classical model: a list of damped oscillators chosen by hand, one electron each times a strength. */
import { pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import { CLASSICAL_ELECTRON_RADIUS, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { Medium } from "./medium.ts";
import { checkMediumRange } from "./medium.ts";
import { responseFromSusceptibility } from "./response.ts";

export interface Oscillator {
  /** vacuum wavelength of ω₀, m, > 0 */
  readonly wavelength: number;
  /** oscillator strength f, electrons' worth, ≥ 0; the classical electron has 1 */
  readonly strength: number;
  /** damping γ, rad/s, FWHM of the absorption line, > 0 */
  readonly width: number;
}

export interface OscillatorList {
  readonly oscillators: readonly Oscillator[];
  /** atoms per volume, 1/m³, > 0 */
  readonly density: number;
  readonly name?: string;
}

function need(field: string, value: number, right: boolean, expected: string): void {
  if (right && Number.isFinite(value)) return;
  throw new Refusal({ code: "oscillator", field, received: String(value), expected });
}

function check({ oscillators, density }: OscillatorList): void {
  if (oscillators.length === 0) {
    throw new Refusal({
      code: "oscillator",
      field: "oscillators",
      received: "none",
      expected: "at least one oscillator",
    });
  }
  need("density", density, density > 0, "a number density above 0 m-3");
  oscillators.forEach(({ wavelength, strength, width }, i) => {
    need(`oscillators[${i}].wavelength`, wavelength, wavelength > 0, "a wavelength above 0 m");
    need(`oscillators[${i}].strength`, strength, strength >= 0, "a strength of 0 or more");
    need(`oscillators[${i}].width`, width, width > 0, "a damping above 0 rad/s");
  });
}

/**
 * χ(ω) = 4π r_e c² N Σ f/(ω₀² − ω² − iγω), n = √(1 + χ): exact for any χ, without local-field correction, group index from
 * dχ/dω in closed form. Answers at every wavelength.
 *
 * @throws Refusal an empty list, a strength below 0, a damping or density that is not above 0
 */
export function oscillatorMedium(list: OscillatorList): Medium {
  check(list);
  const omegas0 = Float64Array.from(
    list.oscillators,
    ({ wavelength }) => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength,
  );
  const widths = Float64Array.from(list.oscillators, ({ width }) => width);
  const perStrength = 4 * Math.PI * CLASSICAL_ELECTRON_RADIUS * pow(SPEED_OF_LIGHT, 2) * list.density;
  const amplitudes = Float64Array.from(list.oscillators, ({ strength }) => perStrength * strength);
  const about = {
    name: list.name ?? "free oscillators",
    wavelengthMin: Number.MIN_VALUE,
    wavelengthMax: Number.POSITIVE_INFINITY,
    remarks: ["a classical model: strengths and dampings are chosen, not measured"],
  };
  return {
    ...about,
    indexAt(wavelengths) {
      checkMediumRange(about, wavelengths);
      const count = wavelengths.length;
      const omegas = wavelengths.map((wavelength) => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength);
      const make = () => new Float64Array(count);
      const chi = { re: make(), im: make(), slopeRe: make(), slopeIm: make() };
      const { re, im, slopeRe, slopeIm } = chi;
      for (let q = 0; q < omegas0.length; q++) {
        const own = omegas0[q];
        const gamma = widths[q];
        const amplitude = amplitudes[q];
        if (amplitude === 0) continue;
        for (let i = 0; i < count; i++) {
          const omega = omegas[i];
          // D = (ω₀ − ω)(ω₀ + ω) − iγω keeps its digits beside a narrow line
          const distance = (own - omega) * (own + omega);
          const loss = gamma * omega;
          const norm = amplitude / (distance * distance + loss * loss);
          const chiRe = distance * norm;
          const chiIm = loss * norm;
          re[i] += chiRe;
          im[i] += chiIm;
          // dχ/dω = χ²/A·(2ω + iγ)
          const squareRe = (chiRe * chiRe - chiIm * chiIm) / amplitude;
          const squareIm = (2 * chiRe * chiIm) / amplitude;
          slopeRe[i] += squareRe * 2 * omega - squareIm * gamma;
          slopeIm[i] += squareRe * gamma + squareIm * 2 * omega;
        }
      }
      return responseFromSusceptibility(wavelengths, omegas, chi);
    },
  };
}
