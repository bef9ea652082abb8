/** From decoded frames to a model ready to be fitted: what stands where, first values, what may move. */
import { metalOf } from "../setup/index.ts";
import { gasRefractivityPerDensity, hasGasRefractivity } from "../medium/index.ts";
import { imageScale, type SpectralMap, spectralMap } from "../path/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import type { Frame } from "../picture/api.ts";
import type { HeightScale, ReadingInput } from "./api.ts";
import { type Background, backgroundOf } from "./background.ts";
import type { Band } from "./band-search.ts";
import { type ColdLine, fitColdLine } from "./cold-line.ts";
import { type GasConditions, gasConditions } from "./conditions.ts";
import { cellNodes, finestCells, roughCells } from "./cells.ts";
import { beamNodes, type CurveSetting } from "./curve-model.ts";
import { assignmentsOr, bandOr, lampOr, lightOr, linesInView, scaleOfSetup } from "./first-look.ts";
import { fitTerms } from "./fit-terms.ts";
import { type LightFrame, lightOf, sameSize } from "./frame-light.ts";
import type { Assignment } from "./gaps.ts";
import type { Geometry } from "./geometry.ts";
import type { LampFrame } from "./lamp-frame.ts";
import { lineTables } from "./line-tables.ts";
import { type Exposures, exposuresOf } from "./exposures.ts";
import type { FitTerm, ParameterName } from "./fit-parameters.ts";
import { checkMarks, type HandMarks, markedLight, markedTrace } from "./marks.ts";
import { lightLeft, type RoughTrace, roughTrace } from "./rough-trace.ts";
import { startColumn, startGradient, type StartSetting } from "./start-values.ts";
import { likeliest } from "./which-gaps.ts";
import { CUT, type StoredLight, storedLight } from "./stored-light.ts";
import { undeflectedFromHot } from "./undeflected.ts";
import { lampSides, type LampSides } from "./lamp-sides.ts";
import { type LampScale, lampScale, polynomial, type ScalePrior } from "./wavelength-scale.ts";

/** The first look needs no fine cells. */
const FIRST_GRAIN = 2.5;

/** What the first look says of the way round a picture is stored: gaps of its lines, and for a single line the lamp. */
export interface SeenSides {
  readonly assignment: Assignment;
  readonly lamp: LampSides | null;
}

/** Everything about a picture that stays while it is fitted, and where the fit starts. */
export interface Prepared {
  readonly setup: Setup;
  readonly hot: LightFrame;
  readonly cold: ColdLine | null;
  readonly undeflected: ColdLine;
  readonly lamp: LampFrame | null;
  readonly exposures: Exposures;
  readonly scale: LampScale | null;
  /** how the lamp fits either way round; null with two lines or without a lamp */
  readonly sides: LampSides | null;
  readonly map: SpectralMap;
  readonly geometry: Geometry;
  readonly trace: RoughTrace;
  readonly reference: Float64Array;
  readonly assignment: Assignment;
  readonly setting: CurveSetting;
  readonly slitWidth: number;
  readonly fixed: Readonly<Record<ParameterName, number>>;
  readonly terms: readonly FitTerm[];
  readonly marks: HandMarks | undefined;
  readonly heightScale: HeightScale | undefined;
  /** see ReadingOptions */
  readonly rough: boolean;
  readonly gamma: number;
  readonly conditions: GasConditions;
  /** (n − 1)/N of the buffer gas, m³ */
  readonly gasRefractivity: number;
  /** standard deviation of the hot picture's dark pixels */
  readonly darkNoise: number;
  /** what the file made of the hot picture's light */
  readonly stored: StoredLight;
  /** the setting with tables for a column density (m⁻²) and nodes about the lines' places */
  readonly settled: (column: number, places: readonly number[]) => CurveSetting;
}

/** @returns null where the first look is strange */
export function prepare(input: ReadingInput, strange: (seen: SeenSides) => boolean): Prepared | null {
  const { setup } = input;
  const gammaOf = (frame: Frame): number =>
    frame.gamma ?? (frame.depth === input.hot.depth ? setup.camera.gamma : 1);
  const { marks } = input;
  checkMarks(marks, input.hot);
  const hot = markedLight(lightOf(input.hot, gammaOf(input.hot), "hot", input.dark), marks);
  const hotBackground = backgroundOf(hot);
  if (input.cold) lightOr(hotBackground, "hot");
  const hotBand = input.cold ? null : bandOr(hot, hotBackground, "hot", 0.3);
  let coldFrame: LightFrame | null = null;
  let coldBackground: Background | null = null;
  let coldBand: Band | null = null;
  if (input.cold) {
    sameSize(input.hot, input.cold, "cold", "hot");
    coldFrame = lightOf(input.cold, gammaOf(input.cold), "cold", input.dark);
    coldBackground = backgroundOf(coldFrame);
    coldBand = bandOr(coldFrame, coldBackground, "cold", 0.6);
  }
  const lamp = input.lamp ? lampOr(input, input.lamp, gammaOf(input.lamp)) : null;
  const band = coldBand ?? hotBand;
  if (band === null) throw new Error("neither frame was looked at");
  const map = spectralMap(setup.path);
  const pixel = setup.camera.pixel;
  const seen: Geometry = lamp
    ? { ...lamp.geometry }
    : { columns: hot.columns, rows: hot.rows, roll: Math.atan(-band.slope), smile: map.smile * pixel };
  const optics = imageScale(setup.path, map);
  const coldAsSeen =
    coldFrame && coldBackground && coldBand
      ? fitColdLine(coldFrame, coldBackground, coldBand, seen, setup.camera.readNoise)
      : null;
  // Without a lamp the spectral lines are taken to stand square on the cold line, as exactly as that one is known.
  const squared = lamp === null ? coldAsSeen : null;
  const geometry: Geometry = squared ? { ...seen, roll: seen.roll + Math.atan(squared.slope) } : seen;
  const cold = squared ? { ...squared, slope: 0 } : coldAsSeen;
  const exposures = exposuresOf(input.hot, input.cold, input.dark);
  const undeflected =
    (cold && averaged(exposed(cold, exposures), (input.meanOf ?? 1) / (input.coldMeanOf ?? 1), hot.count)) ??
    undeflectedFromHot(hot, hotBackground, band, geometry, {
      height: optics.levelSlitHeight / pixel,
      blur: Math.max(optics.blurHeight / pixel, 1),
    });
  const reference = undeflected.spectrum.map((s) => s * undeflected.width);
  const found = roughTrace(hot, geometry, hotBackground.level, hotBackground.noise);
  const trace = markedTrace(found, reference, geometry, marks);
  const lines = linesInView(setup, map, hot.columns);
  const left = lightLeft(trace, reference);
  const lit = left === 1 ? reference : reference.map((v) => v * left);
  const ranked = assignmentsOr(trace, lit, lines, map, pixel, hot.columns);
  const conditions = gasConditions(setup);
  const heatedLength = conditions.length;
  const pixelsPerRadian = input.heightScale?.pixelsPerRadian ?? optics.perRadian / pixel;
  const tablesOver = (wavelengthAt: (u: number) => number, density: number) => {
    const width = hot.columns / 2 + 40;
    const edges = [wavelengthAt(-width), wavelengthAt(width)].sort((p, q) => p - q);
    return lineTables(
      {
        element: metalOf(setup, "a reading").element,
        density,
        temperature: conditions.temperature,
        gas: { species: setup.vessel.gas, pressure: conditions.pressure },
        structure: metalOf(setup, "a reading").structure,
        overrides: metalOf(setup, "a reading").overrides,
      },
      lines.map((l) => l.id),
      edges[0] - 1e-9,
      edges[1] + 1e-9,
    );
  };
  const straight = (u: number): number => undeflected.offset + u * (undeflected.slope + u * undeflected.bend);
  const startFor = ({ pairs }: Assignment, wavelengthAt: (u: number) => number): StartSetting => ({
    anchors: pairs.map(({ line }) => line.wavelength),
    wavelengthAt,
    pixelsPerRadian,
    heatedLength,
    gaps: pairs.map(({ gap }) => gap),
  });
  const assignment = likeliest(ranked, (one) => {
    const { pairs } = one;
    const wavelengthAt = scaleOfSetup(
      map,
      pixel,
      pairs.map(({ line }) => line.wavelength),
      pairs.map(({ gap }) => gap.along),
    );
    const start = startFor(one, wavelengthAt);
    return startGradient(start, tablesOver(wavelengthAt, 1e20), trace, straight, cold === null).misfit;
  });
  const anchorsAt = assignment.pairs.map((p) => p.gap.along);
  const anchors = assignment.pairs.map((p) => p.line.wavelength);
  const byHand = marks?.scale;
  const setupScale =
    byHand === undefined
      ? scaleOfSetup(map, pixel, anchors, anchorsAt)
      : scaleOfSetup(
          map,
          pixel,
          byHand.map((mark) => mark.wavelength),
          byHand.map((mark) => mark.column - hot.columns / 2),
        );
  const expected = (wavelength: (u: number) => number): ScalePrior => ({
    wavelength,
    dispersion: wavelength(0.5) - wavelength(-0.5),
    shift: anchors.length === 2 ? 12 : 0.3 * hot.columns,
    stretch: anchors.length === 2 ? 0.06 : 0.25,
  });
  const sides =
    lamp && input.lampLines && anchors.length === 1
      ? lampSides(
          lamp,
          input.lampLines,
          expected(setupScale),
          expected(scaleOfSetup(map, pixel, anchors, [-anchorsAt[0]])),
          { wavelength: anchors[0], at: anchorsAt[0] },
        )
      : null;
  if (strange({ assignment, lamp: sides })) return null;
  const scale = lamp && input.lampLines ? lampScale(lamp, input.lampLines, expected(setupScale)) : null;
  if (lamp && input.lampLines && scale === null)
    throw new Refusal({
      code: "lamp-lines-unknown",
      field: "lamp",
      received: `${lamp.peaks.length} line${lamp.peaks.length === 1 ? "" : "s"} that fit none of the ${input.lampLines.length} named`,
      expected: "a frame with at least two of the named lamp lines in view",
    });
  const wavelengthAt = scale ? (u: number): number => polynomial(scale.coefficients, u / 1000) : setupScale;
  const tablesAt = (density: number) => tablesOver(wavelengthAt, density);
  const startSetting = startFor(assignment, wavelengthAt);
  let tables = tablesAt(1e20);
  const column = startColumn(startSetting, tables, trace, lit);
  tables = tablesAt(column / heatedLength);
  const gradient = startGradient(startSetting, tables, trace, straight, cold === null);
  const slitWidth = lamp ? lamp.lineWidth : Math.max(optics.plumbSlitWidth / pixel, 0.3);
  const lampBlur = lamp ? lamp.lineSigma : Math.max(optics.blurWidth / pixel, 0.6);
  const slope = undeflected.slope + gradient.slope;
  const square = cold === null && lamp === null;
  const { beam, weights } = beamNodes(input.options?.beamHeights ?? 7);
  const reach = hot.columns / 2 + Math.abs(Math.sin(geometry.roll)) * hot.rows + 30;
  const spread = Math.sqrt(slitWidth ** 2 / 12 + lampBlur ** 2);
  const nodesAround = (places: readonly number[], finest: readonly number[], grain = 1): Float64Array =>
    cellNodes(places, finest, -reach, reach, Math.min(2, Math.max(spread, 0.5)), grain);
  const setting: CurveSetting = {
    tables,
    anchors,
    anchorLines: assignment.pairs.map((p) => lines.findIndex((l) => l.id === p.line.id)),
    wavelengthAt,
    pixelsPerRadian,
    halfBeam: setup.path.beamSize / 2,
    heatedLength,
    selfBroadening: input.options?.selfBroadening ?? "local",
    spectrum: undeflected.spectrum,
    beam,
    weights,
    nodes: nodesAround(anchorsAt, roughCells(anchorsAt), FIRST_GRAIN),
  };
  const fixed: Record<ParameterName, number> = {
    "column gradient": gradient.gradient,
    "column density": column,
    // The vessel's own word, or else a little on the dense side: a start from which either valley can be reached.
    "gradient change": conditions.change ?? 0.1 * Math.sign(gradient.gradient),
    "gradient bow": conditions.bow,
    "offset change": 0,
    "line 1": anchorsAt[0],
    "line 2": anchorsAt[1] ?? 0,
    "strength ratio": 1,
    offset: undeflected.offset + gradient.offset,
    slope: square ? 0 : slope,
    bend: undeflected.bend,
    brightness: left,
    "colour slope": 0,
    "colour bend": 0,
    background: hot.zeroShare > CUT ? hotBackground.median : hotBackground.level,
    "plumb blur": lampBlur,
    "level blur": undeflected.sigma,
    "level width": undeflected.width,
    roll: geometry.roll + (square ? Math.atan(slope) : 0),
    smile: geometry.smile,
  };
  return {
    setup,
    hot,
    cold,
    undeflected,
    lamp,
    exposures,
    scale,
    sides,
    map,
    geometry,
    trace,
    reference,
    assignment,
    setting,
    slitWidth,
    fixed,
    terms: fitTerms(fixed, anchors.length === 2, cold, lamp),
    marks,
    heightScale: input.heightScale,
    rough: input.options?.rough === true,
    gamma: gammaOf(input.hot),
    conditions,
    gasRefractivity: hasGasRefractivity(setup.vessel.gas)
      ? gasRefractivityPerDensity(setup.vessel.gas, setup.path.centreWavelength)
      : 0,
    darkNoise: hotBackground.noise,
    stored: storedLight(hot, hotBackground, undeflected.noise, setup.camera.readNoise),
    settled: (column, places) => {
      const there = { ...setting, tables: tablesAt(column / heatedLength) };
      return { ...there, nodes: nodesAround(places, finestCells(there, places, column)) };
    },
  };
}

/** The cold line as it would look exposed as the hot picture was. An electron is as many counts as the gain makes of it, whatever the time. */
function exposed(line: ColdLine, { light, gain }: Exposures): ColdLine {
  if (light === 1 && gain === 1) return line;
  const { floor, perLight, correlation } = line.noise;
  return {
    ...line,
    spectrum: line.spectrum.map((s) => s * light),
    noise: { floor: floor * gain ** 2, perLight: perLight * gain, correlation },
  };
}

/**
 * The noise of the hot frame told by the cold one.
 * @param frames that the hot one is the mean of, over those of the cold one
 */
function averaged(line: ColdLine, frames: number, step: number): ColdLine {
  const { floor, perLight, correlation } = line.noise;
  // A hot frame stored more coarsely than the cold one has the noise of its own counts at least.
  const own = Math.max(floor / frames, step ** 2 / 12);
  if (frames === 1 && own === floor) return line;
  return { ...line, noise: { floor: own, perLight: perLight / frames, correlation } };
}
