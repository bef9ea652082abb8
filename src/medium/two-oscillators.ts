/** The lecture's model of a vapour, two damped electrons per atom, and how far it is from the full one. */
import { linesOf } from "../reference/index.ts";
import type { OpticalResponse, VapourState } from "./api.ts";
import { lowerPopulation } from "./components.ts";
import { oscillatorMedium } from "./oscillators.ts";
import { vapourResponse } from "./response.ts";
import { checkState } from "./state.ts";
import { lineWidths } from "./widths.ts";

/**
 * Response of the two strongest lines alone (of one, where the element has one), each an undivided oscillator at rest:
 * no hyperfine structure, no isotopes, no Doppler width, the same natural and collisional widths as the full model.
 *
 * @param strengths "published": f of the tables; "classical": f = 1, one electron for each oscillator
 */
export function twoOscillatorResponse(
  state: VapourState,
  wavelengths: Float64Array,
  strengths: "published" | "classical" = "published",
): OpticalResponse {
  checkState(state);
  const strengthOf = (id: string, published: number) =>
    state.overrides?.oscillatorStrength?.[id] ?? published;
  const lines = [...linesOf(state.element)]
    .sort((a, b) => strength(b, state.temperature) - strength(a, state.temperature))
    .slice(0, 2);
  const oscillators = lines.map((line) => ({
    wavelength: line.wavelength,
    strength:
      strengths === "classical"
        ? 1
        : strengthOf(line.id, line.oscillatorStrength) * lowerPopulation(line, state.temperature),
    width: lineWidths(line, state).lorentz,
  }));
  return oscillatorMedium({ oscillators, density: state.density }).indexAt(wavelengths);
}

const strength = (line: ReturnType<typeof linesOf>[number], temperature: number) =>
  line.oscillatorStrength * lowerPopulation(line, temperature);

/** How the two models differ over some wavelengths. */
export interface ModelDifference {
  readonly full: OpticalResponse;
  readonly twoOscillators: OpticalResponse;
  /** largest |difference of n − 1|, 1, and where, vacuum m */
  readonly largest: number;
  readonly largestAt: number;
  /** largest difference of n − 1 relative to the full model's, where that is above a thousandth of its largest, 1 */
  readonly relative: number;
  readonly relativeAt: number;
}

/** The full model and the lecture's side by side, with the places where they are furthest apart. */
export function modelDifference(state: VapourState, wavelengths: Float64Array): ModelDifference {
  const full = vapourResponse(state, wavelengths);
  const twoOscillators = twoOscillatorResponse(state, wavelengths);
  const peak = full.refractivity.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
  const found = { largest: 0, largestAt: wavelengths[0], relative: 0, relativeAt: wavelengths[0] };
  wavelengths.forEach((wavelength, k) => {
    const difference = Math.abs(twoOscillators.refractivity[k] - full.refractivity[k]);
    if (difference > found.largest) {
      found.largest = difference;
      found.largestAt = wavelength;
    }
    const size = Math.abs(full.refractivity[k]);
    if (size > 1e-3 * peak && difference / size > found.relative) {
      found.relative = difference / size;
      found.relativeAt = wavelength;
    }
  });
  return { full, twoOscillators, ...found };
}
