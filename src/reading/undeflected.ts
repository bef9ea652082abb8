/** Without a cold frame: the undeflected line as far as the hot picture shows it, a start that the pixel fit then frees. */
import type { Background } from "./background.ts";
import type { Band } from "./band-search.ts";
import type { ColdLine } from "./cold-line.ts";
import type { LightFrame } from "./frame-light.ts";
import type { Geometry } from "./geometry.ts";
import { roughTrace } from "./rough-trace.ts";
import { smoothSpectrum } from "./spectrum.ts";

/**
 * @param slitHeight level slit's image by the setup, pixels
 */
export function undeflectedFromHot(
  frame: LightFrame,
  background: Background,
  band: Band,
  geometry: Geometry,
  slitHeight: number,
): ColdLine {
  const trace = roughTrace(frame, geometry, background.level, background.noise);
  const n = trace.light.length;
  // Columns at full light: near the upper envelope of their neighbourhood.
  const bright = Float64Array.from(trace.light).sort()[Math.floor(0.8 * n)];
  const value = trace.light.map((v) => v / slitHeight);
  const sigma = trace.light.map((v) =>
    v > 0.85 * bright ? (0.02 * bright) / slitHeight : Number.POSITIVE_INFINITY,
  );
  return {
    offset: geometry.rows / 2 - band.row,
    offsetUncertainty: Number.POSITIVE_INFINITY,
    slope: -band.slope - Math.tan(geometry.roll),
    slopeUncertainty: Number.POSITIVE_INFINITY,
    bend: 0,
    width: slitHeight,
    sigma: 1.2,
    sigmaUncertainty: Number.POSITIVE_INFINITY,
    spectrum: smoothSpectrum({ value, sigma }),
    background: background.level,
    noise: { floor: background.noise ** 2, perLight: 0, correlation: 1 },
    reducedChiSquare: 0,
  };
}
