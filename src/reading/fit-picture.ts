/** The order of work from decoded frames to the fitted model. */
import { gasRefractivityPerDensity, hasGasRefractivity } from "../medium/index.ts";
import { imageScale, type SpectralMap, spectralMap } from "../path/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import type { ReadingInput } from "./api.ts";
import { backgroundOf } from "./background.ts";
import type { Band } from "./band-search.ts";
import { type ColdLine, fitColdLine } from "./cold-line.ts";
import { type GasConditions, gasConditions } from "./conditions.ts";
import { beamNodes, cellNodes, type CurveSetting, curveWorkspace } from "./curve-model.ts";
import { lightOf, type LightFrame, sameSize } from "./frame-light.ts";
import type { Assignment } from "./gaps.ts";
import type { Geometry } from "./geometry.ts";
import type { LampFrame } from "./lamp-frame.ts";
import { lineTables } from "./line-tables.ts";
import {
  type FitTerm,
  fitPixels,
  type ParameterName,
  type PixelFit,
  type PixelFitInput,
  renderValues,
} from "./pixel-fit.ts";
import { pixelBand } from "./pixel-band.ts";
import { modelScratch } from "./pixel-model.ts";
import { roughTrace, type RoughTrace } from "./rough-trace.ts";
import { startColumn, startGradient } from "./start-values.ts";
import { undeflectedFromHot } from "./undeflected.ts";
import { lampScale, type LampScale, polynomial } from "./wavelength-scale.ts";

import { assignmentOr, bandOr, lampOr, lightOr, linesInView, scaleOfSetup } from "./first-look.ts";
import { fitTerms } from "./fit-terms.ts";

/** Everything that the answers are made of. */
export interface FittedPicture {
  readonly setup: Setup;
  readonly hot: LightFrame;
  readonly cold: ColdLine | null;
  readonly undeflected: ColdLine;
  readonly lamp: LampFrame | null;
  readonly scale: LampScale | null;
  readonly map: SpectralMap;
  readonly geometry: Geometry;
  readonly trace: RoughTrace;
  readonly reference: Float64Array;
  readonly assignment: Assignment;
  readonly setting: CurveSetting;
  readonly slitWidth: number;
  readonly terms: readonly FitTerm[];
  readonly fit: PixelFit;
  readonly pixels: Int32Array;
  readonly struckPixels: readonly number[];
  readonly gamma: number;
  readonly conditions: GasConditions;
  /** (n − 1)/N of the buffer gas, m³ */
  readonly gasRefractivity: number;
}

export function fitPicture(input: ReadingInput): FittedPicture {
  const fitted = fitUnless(input, () => false);
  if (fitted === null) throw new Error("nothing was strange, yet nothing was fitted");
  return fitted;
}

/** The same, given up before the costly part where the gaps look strange: null. */
export function fitUnless(
  input: ReadingInput,
  strange: (assignment: Assignment) => boolean,
): FittedPicture | null {
  const { setup } = input;
  const gammaOf = (depth: 8 | 16): number => (depth === input.hot.depth ? setup.camera.gamma : 1);
  const hot = lightOf(input.hot, gammaOf(input.hot.depth), "hot", input.dark);
  const hotBackground = backgroundOf(hot);
  if (input.cold) lightOr(hot, "hot");
  const hotBand = input.cold ? null : bandOr(hot, "hot", 0.3);
  let coldFrame: LightFrame | null = null;
  let coldBand: Band | null = null;
  if (input.cold) {
    sameSize(input.hot, input.cold, "cold", "hot");
    coldFrame = lightOf(input.cold, gammaOf(input.cold.depth), "cold", input.dark);
    coldBand = bandOr(coldFrame, "cold", 0.6);
  }
  const lamp = input.lamp ? lampOr(input, input.lamp, gammaOf(input.lamp.depth)) : null;
  const band = coldBand ?? hotBand;
  if (band === null) throw new Error("neither frame was looked at");
  const map = spectralMap(setup.path);
  const pixel = setup.camera.pixel;
  const geometry: Geometry = lamp
    ? { ...lamp.geometry }
    : { columns: hot.columns, rows: hot.rows, roll: Math.atan(-band.slope), smile: map.smile * pixel };
  const optics = imageScale(setup.path, map);
  const cold =
    coldFrame && coldBand ? fitColdLine(coldFrame, backgroundOf(coldFrame), coldBand, geometry) : null;
  const undeflected =
    cold ?? undeflectedFromHot(hot, hotBackground, band, geometry, optics.levelSlitHeight / pixel);
  const trace = roughTrace(hot, geometry, hotBackground.level, hotBackground.noise);
  const reference = undeflected.spectrum.map((s) => s * undeflected.width);
  const lines = linesInView(setup, map, hot.columns);
  const assignment = assignmentOr(trace, reference, lines, map, pixel, hot.columns);
  if (strange(assignment)) return null;
  const anchorsAt = assignment.pairs.map((p) => p.gap.along);
  const anchors = assignment.pairs.map((p) => p.line.wavelength);
  const setupScale = scaleOfSetup(map, pixel, anchors, anchorsAt);
  const scale =
    lamp && input.lampLines
      ? lampScale(lamp, input.lampLines, {
          wavelength: setupScale,
          dispersion: setupScale(0.5) - setupScale(-0.5),
          shift: anchors.length === 2 ? 12 : 0.3 * hot.columns,
          stretch: anchors.length === 2 ? 0.06 : 0.25,
        })
      : null;
  if (lamp && input.lampLines && scale === null)
    throw new Refusal({
      code: "lamp-lines-unknown",
      field: "lamp",
      received: `${lamp.peaks.length} line${lamp.peaks.length === 1 ? "" : "s"} that fit none of the ${input.lampLines.length} named`,
      expected: "a frame with at least two of the named lamp lines in view",
    });
  const wavelengthAt = scale ? (u: number): number => polynomial(scale.coefficients, u / 1000) : setupScale;
  const conditions = gasConditions(setup);
  const heatedLength = conditions.length;
  const width = hot.columns / 2 + 40;
  const edges = [wavelengthAt(-width), wavelengthAt(width)].sort((a, b) => a - b);
  const tablesAt = (density: number) =>
    lineTables(
      {
        element: setup.medium.element,
        density,
        temperature: conditions.temperature,
        gas: { species: setup.vessel.gas, pressure: conditions.pressure },
        structure: setup.medium.structure,
        overrides: setup.medium.overrides,
      },
      lines.map((l) => l.id),
      edges[0] - 1e-9,
      edges[1] + 1e-9,
    );
  const startSetting = {
    anchors,
    wavelengthAt,
    pixelsPerRadian: optics.perRadian / pixel,
    heatedLength,
    gaps: assignment.pairs.map((p) => p.gap),
  };
  let tables = tablesAt(1e20);
  const column = startColumn(startSetting, tables, trace, reference);
  tables = tablesAt(column / heatedLength);
  const gradient = startGradient(
    startSetting,
    tables,
    trace,
    (u) => undeflected.offset + u * (undeflected.slope + u * undeflected.bend),
  );
  const slitWidth = lamp ? lamp.lineWidth : Math.max(optics.plumbSlitWidth / pixel, 0.3);
  const lampBlur = lamp ? lamp.lineSigma : Math.max(optics.blurWidth / pixel, 0.6);
  const { beam, weights } = beamNodes(input.options?.beamHeights ?? 7);
  const reach = hot.columns / 2 + Math.abs(Math.sin(geometry.roll)) * hot.rows + 30;
  const spread = Math.sqrt(slitWidth ** 2 / 12 + lampBlur ** 2);
  const setting: CurveSetting = {
    tables,
    anchors,
    anchorLines: assignment.pairs.map((p) => lines.findIndex((l) => l.id === p.line.id)),
    wavelengthAt,
    pixelsPerRadian: startSetting.pixelsPerRadian,
    halfBeam: setup.path.beamSize / 2,
    heatedLength,
    selfBroadening: input.options?.selfBroadening ?? "local",
    spectrum: undeflected.spectrum,
    beam,
    weights,
    nodes: cellNodes(anchorsAt, -reach, reach, Math.min(2, Math.max(spread, 0.5))),
  };
  // A file that stores no negative values cuts the noise of a low black level.
  const cut = hotBackground.zeroShare > 0.002;
  const fixed: Record<ParameterName, number> = {
    "column gradient": gradient.gradient,
    "column density": column,
    // Vapour that thins out upward or downward has its larger gradient on the dense side.
    "gradient change": 0.1 * Math.sign(gradient.gradient),
    "gradient bow": 0,
    "offset change": 0,
    "line 1": anchorsAt[0],
    "line 2": anchorsAt[1] ?? 0,
    "strength ratio": 1,
    offset: undeflected.offset + gradient.offset,
    slope: undeflected.slope,
    bend: undeflected.bend,
    brightness: 1,
    background: cut ? hotBackground.median : hotBackground.level,
    "plumb blur": lampBlur,
    "level blur": undeflected.sigma,
    "level width": undeflected.width,
    roll: geometry.roll,
    smile: geometry.smile,
  };
  const terms = fitTerms(fixed, anchors.length === 2, cold, lamp);
  const noise = undeflected.noise;
  const scratch = modelScratch(hot.columns, hot.rows);
  const margin = { columns: 5, rows: 6, edge: 8 };
  const threshold = 0.3 * Math.sqrt(noise.floor);
  const work = curveWorkspace(setting);
  renderValues(setting, fixed, slitWidth, work, scratch, hot);
  const base = {
    cutNoise: cut ? hotBackground.upperSpread : 0,
    frame: hot,
    setting,
    fixed,
    slitWidth,
    noise,
    maxIterations: input.options?.maxIterations ?? 30,
  };
  const firstBand = pixelBand(scratch.image, hot, threshold, null, { columns: 10, rows: 12, edge: 8 });
  // A third of the pixels shows the way as well as all of them.
  const firstPixels = firstBand.length > 30_000 ? firstBand.filter((_, i) => i % 3 === 0) : firstBand;
  const first = betterOfBothSigns({ ...base, terms, pixels: firstPixels, loss: "huber", fallTolerance: 2 });
  // Second pass: tables at the density found, band where the light is, wild pixels struck.
  const settled: CurveSetting = {
    ...setting,
    tables: tablesAt(first.values["column density"] / heatedLength),
    nodes: cellNodes(
      anchors.length === 2 ? [first.values["line 1"], first.values["line 2"]] : [first.values["line 1"]],
      -reach,
      reach,
      Math.min(2, Math.max(spread, 0.5)),
    ),
  };
  renderValues(settled, first.values, slitWidth, curveWorkspace(settled), scratch, hot);
  const struckMask = new Uint8Array(hot.light.length);
  const struckPixels: number[] = [];
  const sized = pixelBand(scratch.image, hot, threshold, null, margin);
  for (const i of sized) {
    const sigma = Math.sqrt(noise.floor + noise.perLight * scratch.image[i]);
    if (Math.abs(scratch.image[i] + first.values.background - hot.light[i]) > 8 * sigma) {
      struckMask[i] = 1;
      struckPixels.push(i);
    }
  }
  if (struckPixels.length > 0.02 * sized.length) {
    // So many are not dust but a fault of the model: let χ² show it.
    struckMask.fill(0);
    struckPixels.length = 0;
  }
  const pixels = pixelBand(scratch.image, hot, threshold, struckMask, margin);
  const restart = terms.map((term) => ({ ...term, start: first.values[term.name] }));
  const fit = fitPixels({
    ...base,
    setting: settled,
    terms: restart,
    fixed: { ...fixed, ...first.values },
    pixels,
    loss: "squares",
    fallTolerance: 1e-3,
  });
  return {
    setup,
    hot,
    cold,
    undeflected,
    lamp,
    scale,
    map,
    geometry,
    trace,
    reference,
    assignment,
    setting: settled,
    slitWidth,
    terms: restart,
    fit,
    pixels,
    struckPixels,
    gamma: gammaOf(input.hot.depth),
    conditions,
    gasRefractivity: hasGasRefractivity(setup.vessel.gas)
      ? gasRefractivityPerDensity(setup.vessel.gas, setup.path.centreWavelength)
      : 0,
  };
}

/**
 * The picture looks almost alike whether the gradient grows towards the dense or the thin side of the beam: two valleys
 * of χ², of which the lower one is taken.
 */
function betterOfBothSigns(input: PixelFitInput): PixelFit {
  const one = fitPixels(input);
  const change = one.values["gradient change"];
  const mirrored = input.terms.map((term) => ({
    ...term,
    start: term.name === "gradient change" ? -change : one.values[term.name],
  }));
  const other = fitPixels({ ...input, terms: mirrored });
  return other.solution.cost < one.solution.cost ? other : one;
}
