/** What follows from a reading under stated assumptions: density, temperature, the wedge, the oscillator curve's test, phase velocities. */
import { saturatedDensity } from "../medium/index.ts";
import type { DerivedNumbers, Measured, PhasePoint } from "./api.ts";
import { type Answers, strengthShare } from "./budget.ts";
import { atomWavelength } from "./curve-model.ts";
import type { FittedPicture } from "./fit-picture.ts";
import type { LineAtPlace } from "./gaps.ts";
import { alongAt, type Geometry, turnedBy } from "./geometry.ts";
import { normalCumulative } from "./smooth-box.ts";

/** Standard uncertainty of the length that the vapour is taken over, share: common practice, no source. */
const LENGTH = 0.05;
/** Published accuracy of the vapour-pressure equations (data/vapour-pressure.json). */
const PRESSURE = 0.05;
/** Columns that make one point of the residual pattern. */
const BIN = 6;

export function derivedNumbers(fitted: FittedPicture, answers: Answers): DerivedNumbers {
  const { columnDensity, columnGradient, fRatio } = answers;
  const { length } = fitted.conditions;
  const density: Measured = {
    value: columnDensity.value / length,
    standardUncertainty: columnDensity.standardUncertainty / length,
    combinedUncertainty: Math.hypot(
      columnDensity.combinedUncertainty / length,
      (LENGTH * columnDensity.value) / length,
    ),
  };
  const perGradient = length / columnDensity.value;
  const tangent = Math.abs(columnGradient.value) * perGradient;
  const angle = Math.atan(tangent);
  // dA = cos² A · d(tan A), tan A = G·L/C.
  const spread = (which: "standardUncertainty" | "combinedUncertainty", more: number): number =>
    Math.cos(angle) ** 2 *
    Math.hypot(
      columnGradient[which] * perGradient,
      (tangent * columnDensity[which]) / columnDensity.value,
      tangent * more,
    );
  const published = fitted.assignment.pairs;
  return {
    density,
    effectiveTemperature: effectiveTemperature(fitted, density),
    prismAngle: {
      value: angle,
      standardUncertainty: spread("standardUncertainty", 0),
      combinedUncertainty: spread("combinedUncertainty", LENGTH),
    },
    publishedRatio:
      fRatio && published.length === 2 ? ratioTest(published[0].line, published[1].line, fRatio) : null,
    oscillatorCurve: curveTest(fitted),
    phase: fitted.gradientSeen ? phasePoints(fitted, density, columnGradient) : [],
  };
}

/** Published errors of the two strengths taken as independent: where they share a cause the ratio is better known. */
function ratioTest(
  shorter: LineAtPlace,
  longer: LineAtPlace,
  measured: Measured,
): DerivedNumbers["publishedRatio"] {
  const published = shorter.strength / longer.strength;
  const standardUncertainty = published * Math.hypot(strengthShare(shorter), strengthShare(longer));
  const whole = Math.hypot(measured.combinedUncertainty, standardUncertainty);
  return { published, standardUncertainty, deviation: (measured.value - published) / whole };
}

/** Temperature at which saturated vapour would be so dense; bisection on ln T. */
function effectiveTemperature({ setup }: FittedPicture, density: Measured): Measured | null {
  // A flame's salt is no metal in balance with its vapour.
  if (setup.vessel.contents?.kind === "flame") return null;
  const { element, pressureEquation } = setup.vessel;
  const [coldest, hottest] = [150, 3000];
  const at = (wanted: number): number => {
    let low = Math.log(coldest);
    let high = Math.log(hottest);
    for (let pass = 0; pass < 60; pass++) {
      const middle = (low + high) / 2;
      if (saturatedDensity(element, Math.exp(middle), pressureEquation) < wanted) low = middle;
      else high = middle;
    }
    return Math.exp((low + high) / 2);
  };
  const value = at(density.value);
  if (!(value > coldest * 1.01 && value < hottest * 0.99)) return null;
  // K per unit of ln N
  const slope = (at(density.value * 1.01) - at(density.value * 0.99)) / 0.02;
  return {
    value,
    standardUncertainty: (slope * density.standardUncertainty) / density.value,
    combinedUncertainty: slope * Math.hypot(density.combinedUncertainty / density.value, PRESSURE),
  };
}

/**
 * Does the curve of the lines' oscillators describe the picture? Heights of the light against the fitted curve, a few
 * columns at a time: h = Σ s·r/Σ s² with r the weighted residuals and s their slope in a shift upward; Σ (h/σ)² over the
 * points less the curve's parameters is χ² if the curve is right. p by Wilson and Hilferty's cube root (from memory),
 * good to 0.003 from 10 degrees of freedom on.
 */
function curveTest(fitted: FittedPicture): DerivedNumbers["oscillatorCurve"] {
  const { fit, pixels, hot, terms, undeflected } = fitted;
  const shift = terms.findIndex((term) => term.name === "offset");
  const m = fit.solution.jacobian.length / terms.length;
  const geometry: Geometry = {
    columns: hot.columns,
    rows: hot.rows,
    roll: fit.values.roll,
    smile: fit.values.smile,
  };
  const turned = turnedBy(geometry);
  const bins = Math.ceil(hot.columns / BIN);
  const top = new Float64Array(bins);
  const bottom = new Float64Array(bins);
  const slopes = fit.solution.jacobian.subarray(shift * m, (shift + 1) * m);
  for (let i = 0; i < pixels.length; i++) {
    const at = pixels[i];
    const u = alongAt(turned, (at % hot.columns) + 0.5, Math.floor(at / hot.columns) + 0.5);
    const bin = Math.floor((u + hot.columns / 2) / BIN);
    if (bin < 0 || bin >= bins) continue;
    const slope = slopes[i];
    top[bin] += (slope * (hot.light[at] - fit.model[i])) / fit.sigma[i];
    bottom[bin] += slope * slope;
  }
  const residuals: { column: number; height: number; standardUncertainty: number }[] = [];
  let chiSquare = 0;
  for (let bin = 0; bin < bins; bin++) {
    if (!(bottom[bin] > 0)) continue;
    const standardUncertainty = Math.sqrt(undeflected.noise.correlation / bottom[bin]);
    if (standardUncertainty > 5) continue;
    const height = top[bin] / bottom[bin];
    residuals.push({ column: (bin + 0.5) * BIN, height, standardUncertainty });
    chiSquare += (height / standardUncertainty) ** 2;
  }
  const curve = ["column gradient", "line 1", "line 2", "strength ratio", "offset", "slope", "bend"];
  const free = terms.filter(({ name }) => curve.includes(name)).length;
  const degreesOfFreedom = Math.max(1, residuals.length - free);
  const nu = 2 / (9 * degreesOfFreedom);
  const z = (Math.cbrt(chiSquare / degreesOfFreedom) - (1 - nu)) / Math.sqrt(nu);
  return { chiSquare, degreesOfFreedom, pValue: normalCumulative(-z), residuals };
}

/** n − 1 at each traced point from its height alone: height = F·(n − 1)/N·G, hence n − 1 = height·N/(F·G). */
function phasePoints(fitted: FittedPicture, density: Measured, gradient: Measured): PhasePoint[] {
  const { trace, hot, fit, setting, reference } = fitted;
  const { values } = fit;
  const anchors = setting.anchors.length === 2 ? [values["line 1"], values["line 2"]] : [values["line 1"]];
  const perHeight = density.value / (setting.pixelsPerRadian * gradient.value);
  const scale = Math.hypot(
    density.combinedUncertainty / density.value,
    gradient.combinedUncertainty / gradient.value,
  );
  const points: PhasePoint[] = [];
  for (let k = 0; k < trace.height.length; k++) {
    if (!Number.isFinite(trace.sigma[k]) || reference[k] <= 0) continue;
    const u = k + 0.5 - hot.columns / 2;
    const height = trace.height[k] - values.offset - u * (values.slope + u * values.bend);
    const refractivity = height * perHeight;
    const standardUncertainty = Math.abs(trace.sigma[k] * perHeight);
    points.push({
      column: u + hot.columns / 2,
      wavelength: atomWavelength(setting, anchors, u),
      refractivity,
      standardUncertainty,
      combinedUncertainty: Math.hypot(standardUncertainty, scale * refractivity),
      velocity: 1 / (1 + refractivity),
      aboveLight: refractivity < -2 * standardUncertainty,
    });
  }
  return points;
}
