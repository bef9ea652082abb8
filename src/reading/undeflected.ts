/** Without a cold frame: the undeflected line as far as the hot picture shows it, a start that the pixel fit then frees. */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import type { Background } from "./background.ts";
import { bandPixels } from "./band-pixels.ts";
import type { Band } from "./band-search.ts";
import type { ColdLine } from "./cold-line.ts";
import type { LightFrame } from "./frame-light.ts";
import type { Geometry } from "./geometry.ts";
import { noiseFromResiduals } from "./noise.ts";
import { type RoughTrace, roughTrace } from "./rough-trace.ts";
import { pixelOfBox } from "./smooth-box.ts";
import { NO_ERRORS } from "./spectrum.ts";

/** What a quick look takes for the undeflected line. */
export type LineGuess = Pick<ColdLine, "offset" | "slope" | "bend" | "width" | "spectrum">;

/**
 * The line as the bright band lies, its light as the brightest columns of the trace say; no noise, no uncertainties.
 * @param slitHeight level slit's image by the setup, pixels
 */
export function guessUndeflected(
  trace: RoughTrace,
  band: Band,
  geometry: Geometry,
  slitHeight: number,
): LineGuess {
  return {
    offset: geometry.rows / 2 - band.row,
    slope: -band.slope - Math.tan(geometry.roll),
    bend: 0,
    width: slitHeight,
    spectrum: upperEnvelope(trace.light, trace.lightSigma).map((v) => v / slitHeight),
  };
}

/**
 * @param slit level slit's image by the setup: full height and blur, pixels
 */
export function undeflectedFromHot(
  frame: LightFrame,
  background: Background,
  band: Band,
  geometry: Geometry,
  slit: { readonly height: number; readonly blur: number },
): ColdLine {
  const trace = roughTrace(frame, geometry, background.level, background.noise);
  const guess = guessUndeflected(trace, band, geometry, slit.height);
  const { offset, slope, spectrum } = guess;
  const pixels = bandPixels(frame, band, geometry);
  const model = new Float64Array(pixels.count);
  const columns = spectrum.length;
  for (let i = 0; i < pixels.count; i++) {
    const u = pixels.along[i];
    const c = Math.min(Math.max(Math.floor(u + columns / 2), 0), columns - 1);
    model[i] =
      spectrum[c] * pixelOfBox(pixels.height[i] - offset - slope * u, slit.height, slit.blur) +
      background.level;
  }
  return {
    ...guess,
    spectrumErrors: NO_ERRORS,
    offsetUncertainty: Number.POSITIVE_INFINITY,
    slopeUncertainty: Number.POSITIVE_INFINITY,
    bendUncertainty: Number.POSITIVE_INFINITY,
    widthUncertainty: Number.POSITIVE_INFINITY,
    sigma: slit.blur,
    sigmaUncertainty: Number.POSITIVE_INFINITY,
    background: background.level,
    noise: noiseFromResiduals(pixels, model, background.level, background.noise),
    reducedChiSquare: 0,
  };
}

/** A parabola over the columns at full light: what lies below it, the gaps and their wings, is clipped away pass by pass. */
function upperEnvelope(light: Float64Array, sigma: number): Float64Array {
  const n = light.length;
  const x = (c: number): number => (2 * c) / (n - 1) - 1;
  const edge = Math.max(6, Math.round(0.02 * n));
  let kept = Array.from({ length: n - 2 * edge }, (_, k) => k + edge);
  let curve = new Float64Array(n);
  for (let pass = 0; pass < 14; pass++) {
    const order = kept.length > 20 ? 2 : 0;
    const fit = linearLeastSquares(
      Array.from({ length: order + 1 }, (_, k) => Float64Array.from(kept, (c) => x(c) ** k)),
      Float64Array.from(kept, (c) => light[c]),
      new Float64Array(kept.length).fill(1),
    );
    curve = Float64Array.from({ length: n }, (_, c) =>
      fit.parameters.reduce((sum, a, k) => sum + a * x(c) ** k, 0),
    );
    const above = curve;
    const rest = kept.map((c) => light[c] - above[c]);
    const typical = Math.max(sigma, 1.4826 * Float64Array.from(rest, Math.abs).sort()[rest.length >> 1]);
    const next = kept.filter((_, k) => rest[k] > -1.5 * typical && rest[k] < 4 * typical);
    if (next.length === kept.length || next.length < 0.15 * n) break;
    kept = next;
  }
  const most = curve.reduce((a, b) => Math.max(a, b), 0);
  return curve.map((v) => Math.max(v, 0.02 * most));
}
