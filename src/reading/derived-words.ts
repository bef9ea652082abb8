/** What follows from the answers, in sentences for a reader. */
import { formatWithUncertainty } from "../quantity/index.ts";
import type { PhasePoint, Reading } from "./api.ts";

/** Density and temperature, wedge angle, strengths, zero, test of the oscillator curve, phase velocity above c, lamp lines: one sentence each. @param plain false writes powers of ten as a page does */
export function derivedWords(
  { derived, zeroBetweenLines: zero, wavelengthScale }: Reading,
  plain = true,
): string[] {
  const { density, effectiveTemperature, prismAngle, publishedRatio, oscillatorCurve, phase } = derived;
  const residuals = wavelengthScale.features
    .filter((f) => f.wavelengths.length > 0)
    .map((f) => `${(f.wavelengths[0] * 1e9).toFixed(3)} nm ${(f.residual * 1e12).toFixed(1)} pm`);
  const fastest = phase.filter((p) => p.aboveLight).sort((a, b) => a.refractivity - b.refractivity);
  return [
    `density ${formatWithUncertainty(density.value, density.combinedUncertainty, "m-3", { plain })} over the vapour's length`,
    ...(effectiveTemperature === null
      ? []
      : [
          `as dense as saturated vapour at ${effectiveTemperature.value.toFixed(1)} ± ${effectiveTemperature.combinedUncertainty.toFixed(1)} K`,
        ]),
    `bends like an even wedge of ${((prismAngle.value * 180) / Math.PI).toFixed(2)} ± ${((prismAngle.combinedUncertainty * 180) / Math.PI).toFixed(2)} degrees`,
    ...(publishedRatio === null
      ? []
      : [
          `strength ratio ${Math.abs(publishedRatio.deviation).toFixed(1)} uncertainties from the published ${formatWithUncertainty(publishedRatio.published, publishedRatio.standardUncertainty, "1", { plain })}`,
        ]),
    ...(zero === null
      ? []
      : [
          `zero between the lines ${zero.pass ? "passes" : "fails"}: ${inPicometres(zero.measured.value - zero.expected, zero.measured.combinedUncertainty)} from its atomic value`,
        ]),
    `oscillator curve: χ² ${oscillatorCurve.chiSquare.toFixed(0)} over ${oscillatorCurve.degreesOfFreedom}, p = ${oscillatorCurve.pValue.toPrecision(2)}`,
    ...(fastest.length === 0
      ? []
      : [
          `phase velocity above c at ${fastest.length} columns (${stretches(fastest)}), fastest ${fastest[0].velocity.toFixed(9)} ± ${fastest[0].combinedUncertainty.toFixed(9)} c at ${(fastest[0].wavelength * 1e9).toFixed(3)} nm; the front never is`,
        ]),
    ...(residuals.length === 0 ? [] : [`lamp lines less the scale: ${residuals.join(", ")}`]),
  ];
}

/** Two digits of the uncertainty, as many of the value. */
function inPicometres(value: number, uncertainty: number): string {
  const places = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(uncertainty * 1e12))));
  return `${(value * 1e12).toFixed(places)} ± ${(uncertainty * 1e12).toFixed(places)} pm`;
}

/** Wavelengths that hang together, a gap of more than three points apart. */
function stretches(points: readonly PhasePoint[]): string {
  const sorted = [...points].sort((a, b) => a.column - b.column);
  const runs: PhasePoint[][] = [];
  for (const point of sorted) {
    const run = runs.at(-1);
    if (run !== undefined && point.column - run[run.length - 1].column < 3.5) run.push(point);
    else runs.push([point]);
  }
  const nm = (p: PhasePoint): string => (p.wavelength * 1e9).toFixed(2);
  const said = runs.map((run) => (run.length > 1 ? `${nm(run[0])}–${nm(run[run.length - 1])}` : nm(run[0])));
  const most = said.slice(0, 4).join(", ");
  return `${most}${said.length > 4 ? ` and ${said.length - 4} more` : ""} nm`;
}
