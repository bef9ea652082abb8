/** From the fitted picture to the answers a person asked for, with their uncertainties. */
import { formatQuantity } from "../quantity/index.ts";
import type { LineColumn, Reading, TracePoint, WavelengthScale } from "./api.ts";
import { budgetOf, combined, type Noisy, type NoisyAnswers } from "./budget.ts";
import { FitCovariance } from "./covariance.ts";
import { atomWavelength, fillCurve, curveWorkspace, lineStrengths } from "./curve-model.ts";
import { scaleUncertainty } from "./marks.ts";
import { derivedNumbers } from "./derived.ts";
import { scaleOfSetup } from "./first-look.ts";
import { columnOf, type Geometry, rowOf } from "./geometry.ts";
import { evaluateTables } from "./line-tables.ts";
import { curveParameters, type ParameterName } from "./fit-parameters.ts";
import { clumping, MISFIT } from "./fit-faults.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { MOST_CHANGE } from "./fit-terms.ts";
import { spectrumNoise } from "./spectrum-noise.ts";
import { verdictOf } from "./verdict.ts";
import { warningsOf } from "./warnings.ts";

/** How well a wavelength scale taken from the setup alone is known, share: common practice, no source. */
export const SETUP_SCALE = 0.02;

/** Share of the pair's distance that the zero may be off by before the scale is called wrong: lines are published to far less. */
const ZERO_SHARE = 5e-4;

export function buildReading(fitted: FittedPicture): Reading {
  const { fit, setting, terms, undeflected } = fitted;
  const { values } = fit;
  const { correlation } = undeflected.noise;
  const shared = fit.reducedChiSquare < MISFIT ? correlation : Math.max(correlation, clumping(fitted));
  const inflation = Math.max(1, fit.reducedChiSquare) * shared;
  const covariance = new FitCovariance(terms, fit.solution.covariance, inflation, spectrumNoise(fitted));
  const measured = (name: ParameterName, factor = 1): Noisy => ({
    value: values[name] * factor,
    standardUncertainty: covariance.sigma(name) * Math.abs(factor),
  });
  const pair = setting.anchors.length === 2;
  const published = pair
    ? fitted.assignment.pairs[0].line.strength / fitted.assignment.pairs[1].line.strength
    : 1;
  const fRatio = pair ? measured("strength ratio", published) : null;
  const lineSeparation = pair ? separation(fitted, covariance) : null;
  const tilt: Noisy = {
    value: values.roll + Math.atan(values.slope),
    standardUncertainty: covariance.propagate({ roll: 1, slope: 1 }),
  };
  const noisy: NoisyAnswers = {
    columnGradient: measured("column gradient"),
    columnDensity: measured("column density"),
    lineSeparation,
    fRatio,
    tilt,
  };
  const budget = budgetOf(fitted, noisy, covariance);
  const answers = combined(noisy, budget);
  // Of the shape of what is not seen nothing is known but its limits, evenly between them.
  const change = fitted.gradientSeen
    ? measured("gradient change")
    : { value: values["gradient change"], standardUncertainty: MOST_CHANGE / Math.sqrt(3) };
  const zero = pair ? zeroBetween(fitted, covariance) : null;
  return {
    orientation: "as stored",
    ...answers,
    gradientChange: {
      ...change,
      combinedUncertainty: Math.hypot(
        change.standardUncertainty,
        covariance.assumed({ "gradient change": 1 }),
      ),
    },
    lineShape: { height: values["level width"], blur: values["level blur"] },
    lineColumns: lineColumns(fitted, covariance),
    zeroBetweenLines: zero,
    derived: derivedNumbers(fitted, answers),
    wavelengthScale: scaleOf(fitted),
    ...(fitted.marks === undefined ? {} : { marks: fitted.marks }),
    ...(fitted.heightScale === undefined ? {} : { heightScale: fitted.heightScale }),
    verdict: verdictOf(fitted, answers),
    warnings: warningsOf(fitted, answers, zero),
    assumptions: assumptionsOf(fitted),
    budget,
    parameters: terms.map((term) => ({
      name: term.name,
      unit: term.unit,
      value: values[term.name],
      standardUncertainty: covariance.sigma(term.name),
    })),
    covariance: covariance.table(),
    reducedChiSquare: fit.reducedChiSquare,
    degreesOfFreedom: fit.degreesOfFreedom,
    iterations: fit.solution.iterations,
    converged: fit.solution.converged,
    trace: tracePoints(fitted),
    curve: fittedCurve(fitted),
    mask: maskOf(fitted),
    residual: residualOf(fitted),
  };
}

/** Distance of the lines: places from the fit; on the lamp's scale, with its own covariance, or on that of two marks, or else of the setup's disperser, not stretched to the pair. */
function separation(fitted: FittedPicture, covariance: FitCovariance): Noisy {
  const { setting, scale, fit, map, setup } = fitted;
  const a = fit.values["line 1"];
  const b = fit.values["line 2"];
  const at = scaleApart(fitted)
    ? (u: number): number => setting.wavelengthAt(u)
    : scaleOfSetup(map, setup.camera.pixel, setting.anchors.slice(0, 1), [a]);
  const value = Math.abs(at(b) - at(a));
  const slope = (u: number): number => at(u + 0.5) - at(u - 0.5);
  const places = covariance.propagate({ "line 1": -slope(a), "line 2": slope(b) });
  const byHand = fitted.marks?.scale;
  let scaleVariance = ((byHand === undefined ? SETUP_SCALE : scaleUncertainty(byHand)) * value) ** 2;
  if (scale) scaleVariance = lampVariance(scale, (i) => (b / 1000) ** i - (a / 1000) ** i);
  return { value, standardUncertainty: Math.hypot(places, Math.sqrt(Math.max(scaleVariance, 0))) };
}

/** Variance of Σ row(i)·coefficient i of the lamp's scale. */
function lampVariance(
  { size, covariance }: NonNullable<FittedPicture["scale"]>,
  row: (i: number) => number,
): number {
  let variance = 0;
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) variance += row(i) * row(j) * covariance[j * size + i];
  return variance;
}

/** True where lamp or hand say what wavelength stands where, whatever the vapour's own lines do. */
function scaleApart({ scale, marks }: FittedPicture): boolean {
  return scale !== null || marks?.scale !== undefined;
}

function lineColumns(fitted: FittedPicture, covariance: FitCovariance): LineColumn[] {
  const names: ParameterName[] = ["line 1", "line 2"];
  return fitted.assignment.pairs.map(({ line }, k) => ({
    line: line.id,
    wavelength: line.wavelength,
    column: fitted.fit.values[names[k]] + fitted.hot.columns / 2,
    standardUncertainty: covariance.sigma(names[k]),
  }));
}

/** Zero of n − 1 between the pair with the strengths that the picture shows, on the lamp's scale (without one, on the pair's own), and as published. */
function zeroBetween(fitted: FittedPicture, covariance: FitCovariance): Reading["zeroBetweenLines"] {
  const { setting, fit } = fitted;
  const { values } = fit;
  const at = (ratio: number, a: number, b: number): number | null => {
    const along = zeroPlace(fitted, ratio, a, b);
    if (along === null) return null;
    return scaleApart(fitted) ? setting.wavelengthAt(along) : atomWavelength(setting, [a, b], along);
  };
  const ratio = values["strength ratio"];
  const [a, b] = [values["line 1"], values["line 2"]];
  const here = at(ratio, a, b);
  const exact = zeroPlace(fitted, 1, a, b);
  if (here === null || exact === null) return null;
  const h = 1e-3;
  const slopes = [at(ratio * (1 + h), a, b), at(ratio, a + h, b), at(ratio, a, b + h)].map((v) =>
    v === null ? 0 : (v - here) / h,
  );
  const derivatives = { "strength ratio": slopes[0] / ratio, "line 1": slopes[1], "line 2": slopes[2] };
  const standardUncertainty = covariance.propagate(derivatives);
  // What the scale's own lines leave open between them is no fault of the scale.
  const { scale } = fitted;
  const ofScale = scale
    ? Math.sqrt(
        Math.max(
          lampVariance(scale, (i) => (exact / 1000) ** i),
          0,
        ),
      )
    : 0;
  const combinedUncertainty = Math.hypot(standardUncertainty, covariance.assumed(derivatives), ofScale);
  const expected = atomWavelength(setting, [a, b], exact);
  const allowed = Math.hypot(3 * combinedUncertainty, ZERO_SHARE * (setting.anchors[1] - setting.anchors[0]));
  return {
    measured: { value: here, standardUncertainty, combinedUncertainty },
    expected,
    pass: Math.abs(here - expected) <= allowed,
  };
}

/** Place between the lines where the refractivity vanishes, pixels from the middle; bisection. */
function zeroPlace(fitted: FittedPicture, ratio: number, a: number, b: number): number | null {
  const { setting } = fitted;
  const strengths = lineStrengths(setting, ratio);
  const one = new Float64Array(1);
  const kappa = (along: number): number => {
    const out = new Float64Array(1);
    evaluateTables(
      setting.tables,
      Float64Array.of(atomWavelength(setting, [a, b], along)),
      strengths,
      0,
      out,
      one,
      one,
    );
    return out[0];
  };
  let low = a + 0.02 * (b - a);
  let high = b - 0.02 * (b - a);
  const sign = Math.sign(kappa(low));
  if (sign === Math.sign(kappa(high))) return null;
  for (let pass = 0; pass < 60; pass++) {
    const middle = (low + high) / 2;
    if (Math.sign(kappa(middle)) === sign) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function scaleOf(fitted: FittedPicture): WavelengthScale {
  const { scale, hot, setting, fit, marks } = fitted;
  const { roll, smile } = fit.values;
  if (scale)
    return {
      source: "lamp",
      coefficients: Array.from(scale.coefficients),
      centreColumn: hot.columns / 2,
      features: scale.features,
      rmsResidual: scale.rmsResidual,
      roll,
      smile,
    };
  const anchors =
    setting.anchors.length === 2 ? [fit.values["line 1"], fit.values["line 2"]] : [fit.values["line 1"]];
  const byHand = marks?.scale !== undefined;
  const at = (u: number): number => (byHand ? setting.wavelengthAt(u) : atomWavelength(setting, anchors, u));
  const reach = 0.4 * hot.columns;
  const [low, middle, high] = [at(-reach), at(0), at(reach)];
  const t = reach / 1000;
  return {
    source: byHand ? "marks" : anchors.length === 2 ? "vapour-pair" : "setup",
    coefficients: [middle, (high - low) / (2 * t), (high + low - 2 * middle) / (2 * t * t)],
    centreColumn: hot.columns / 2,
    features: [],
    rmsResidual: 0,
    roll,
    smile,
  };
}

function assumptionsOf(fitted: FittedPicture): string[] {
  const { setup, setting, cold, scale, marks } = fitted;
  const list = [
    `vapour over ${(fitted.conditions.length * 1e3).toPrecision(4)} mm (${fitted.conditions.source}): sets the density that goes into self-broadening`,
    `gas at ${fitted.conditions.temperature.toFixed(0)} K and ${formatQuantity(fitted.conditions.pressure, "Pa")} from the same: sets the Doppler width and the gas broadening`,
    // A moved slit measures pixels per angle itself: focusing lens and pixel drop out.
    fitted.heightScale
      ? "height scale by the level slit moved a known amount, at the collimator's stated focal length"
      : `focal length ${(setup.path.focalLength * 1e3).toPrecision(4)} mm and pixel ${(setup.camera.pixel * 1e6).toPrecision(3)} µm: set the scale of angles`,
    ...(!cold && !fitted.lamp
      ? ["the level slit's image and the spectral lines at right angles (neither cold nor lamp frame)"]
      : []),
    `beam ${(setting.halfBeam * 2e3).toPrecision(3)} mm high and evenly lit`,
  ];
  if (fitted.gamma !== 1) list.push(`gamma ${fitted.gamma} of the picture`);
  if (!cold)
    list.push("the undeflected line is straight and its light smooth over the colours (no cold frame)");
  if (marks?.scale && !scale)
    list.push("wavelength scale by two marks set by hand and the setup's disperser");
  else if (!scale)
    list.push(
      "wavelength scale by the published lines of the vapour itself and the setup's disperser (no lamp)",
    );
  return list;
}

function tracePoints(fitted: FittedPicture): TracePoint[] {
  const { trace, reference, hot, fit } = fitted;
  const g: Geometry = {
    columns: hot.columns,
    rows: hot.rows,
    roll: fit.values.roll,
    smile: fit.values.smile,
  };
  const points: TracePoint[] = [];
  for (let k = 0; k < trace.height.length; k++) {
    if (!Number.isFinite(trace.sigma[k]) || reference[k] <= 0) continue;
    const along = k + 0.5 - hot.columns / 2;
    points.push({
      column: columnOf(g, along, trace.height[k]),
      row: rowOf(g, along, trace.height[k]),
      standardUncertainty: trace.sigma[k],
      transmission: trace.light[k] / reference[k],
    });
  }
  return points;
}

function fittedCurve(fitted: FittedPicture): Reading["curve"] {
  const { setting, fit, hot } = fitted;
  const { values } = fit;
  const single = {
    ...setting,
    beam: Float64Array.of(0),
    weights: Float64Array.of(1),
    spectrum: new Float64Array(hot.columns).fill(1),
  };
  const work = curveWorkspace(single);
  fillCurve(single, { ...curveParameters(values, setting.anchors.length), brightness: 1 }, work);
  const g: Geometry = { columns: hot.columns, rows: hot.rows, roll: values.roll, smile: values.smile };
  const n = setting.nodes.length;
  const column = new Float64Array(n);
  const row = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    column[i] = columnOf(g, setting.nodes[i], work.curve.place[i]);
    row[i] = rowOf(g, setting.nodes[i], work.curve.place[i]);
  }
  return { column, row, transmission: work.curve.light.slice() };
}

function maskOf(fitted: FittedPicture): Uint8Array {
  const mask = new Uint8Array(fitted.hot.light.length);
  for (const i of fitted.pixels) mask[i] = 1;
  for (const i of fitted.struckPixels) mask[i] = 2;
  return mask;
}

function residualOf({ hot, fit, pixels }: FittedPicture): Float32Array {
  const residual = new Float32Array(hot.light.length);
  for (let k = 0; k < pixels.length; k++)
    residual[pixels[k]] = (hot.light[pixels[k]] - fit.model[k]) / fit.sigma[k];
  return residual;
}
