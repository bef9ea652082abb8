/** The band of fog along the curve: between which deflections and transmissions each wavelength may lie. */
import type { CurveBundle } from "../picture/index.ts";
import { fogBand } from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import { bundleAt } from "./curve-stage.ts";
import type { CurvePoints } from "./forecast.ts";
import type { VapourStage } from "./stages.ts";

/** Arrays over the curve's wavelengths; low ≤ value without fog ≤ high. */
export interface CurveFog {
  /** rad, mean over the beam */
  readonly deflectionLow: Float64Array;
  readonly deflectionHigh: Float64Array;
  readonly transmissionLow: Float64Array;
  readonly transmissionHigh: Float64Array;
}

/**
 * The four corners of `fogBand` (density linear and saturated, gradient low and high, at every height of the beam), the
 * vapour's own width following its density, and the curve without fog. A solution holds no fog: the band is the curve.
 */
export function curveFog(setup: Setup, vapour: VapourStage, points: CurvePoints): CurveFog {
  const out = {
    deflectionLow: points.deflection.slice(),
    deflectionHigh: points.deflection.slice(),
    transmissionLow: points.transmission.slice(),
    transmissionHigh: points.transmission.slice(),
  };
  if (vapour.solution !== undefined) return out;
  const { columns, state } = vapour;
  const band = fogBand(vapour.field, columns, vapour.numbers.midSupersaturation);
  const middle = (columns.heights.length - 1) / 2;
  const { saturated } = band;
  const thin = { ...state, density: saturated.effectiveDensity[middle] };
  for (const columnGradient of [band.columnGradient.low, band.columnGradient.high]) {
    widen(out, bundleAt(setup, { ...vapour, columns: { ...columns, columnGradient } }, points.wavelength));
    widen(
      out,
      bundleAt(
        setup,
        { ...vapour, state: thin, columns: { ...saturated, columnGradient } },
        points.wavelength,
      ),
    );
  }
  return out;
}

function widen(band: CurveFog, { wavelengths, weights, deflection, transmission }: CurveBundle): void {
  const n = wavelengths.length;
  for (let i = 0; i < n; i++) {
    let bent = 0;
    let left = 0;
    for (let h = 0; h < weights.length; h++) {
      bent += weights[h] * deflection[h * n + i];
      left += weights[h] * transmission[h * n + i];
    }
    band.deflectionLow[i] = Math.min(band.deflectionLow[i], bent);
    band.deflectionHigh[i] = Math.max(band.deflectionHigh[i], bent);
    band.transmissionLow[i] = Math.min(band.transmissionLow[i], left);
    band.transmissionHigh[i] = Math.max(band.transmissionHigh[i], left);
  }
}
