/** Second stage of the forward chain: the curve that the light draws, before any blur. */
import {
  gasRefractivityPerDensity,
  type PerAtom,
  perAtom,
  type VapourState,
  zerosBetweenLines,
} from "../medium/index.ts";
import {
  benchEdges,
  coldBundle,
  colourHeights,
  type CurveGrid,
  curveBundle,
  curveGrid,
  imageScale,
  type SpectralMap,
  spectralMap,
  strayAcross,
  throughBench,
} from "../path/index.ts";
import type { CurveBundle } from "../picture/index.ts";
import type { Setup } from "./api.ts";
import { type LineGap, lineGap } from "./gap.ts";
import { linesIn } from "./metal.ts";
import { softnessOf } from "./softness.ts";
import type { CurveStage, MetalStage, SolutionOptics, VapourStage } from "./stages.ts";

/**
 * @param map the map of `setup.path` where it is already at hand: tracing it costs as much as the rest of the stage
 * @param withLines false leaves out gaps of lines and zeros between them, which a picture alone does not need
 */
export function curveStage(
  setup: Setup,
  vapour: VapourStage,
  map: SpectralMap = spectralMap(setup.path),
  withLines = true,
): CurveStage {
  const scale = imageScale(setup.path, map);
  const { camera } = setup;
  const { columnDensity, columnGradient } = vapour.middle;
  const gridOf = (atoms: (at: Float64Array) => PerAtom): CurveGrid =>
    curveGrid({
      map,
      width: camera.columns * camera.pixel,
      height: camera.rows * camera.pixel,
      beyond: strayAcross(scale, camera.rows * camera.pixel),
      step: camera.pixel,
      perAtom: atoms,
      columnDensity,
      columnGradient,
      perRadian: scale.perRadian,
    });
  const { bundle, lines, zeroBetweenLines, cold } =
    vapour.solution === undefined
      ? metalCurve(setup, vapour, gridOf, withLines ? linesInView(setup, map) : [])
      : solutionCurve(vapour.solution, gridOf);
  const { path } = setup;
  const through = throughBench(bundle, path, {
    heights: vapour.columns.heights,
    edges: benchEdges(path, setup.vessel),
    hot: true,
    sizes: colourHeights(path, setup.vessel, bundle.wavelengths),
  });
  const soft = softnessOf(setup, map);
  return {
    bundle: through,
    map,
    scale,
    lines,
    zeroBetweenLines,
    ...(through === bundle ? {} : { vapourBundle: bundle, setup }),
    ...(cold === undefined ? {} : { coldBundle: cold }),
    ...(soft === undefined ? {} : { soft }),
  };
}

/** The light as it leaves the vessel, and what can be said of it. */
interface Left {
  readonly bundle: CurveBundle;
  readonly lines: readonly LineGap[];
  readonly zeroBetweenLines: number | null;
  /** the same light through the vessel without vapour or dye, where that is not straight and whole */
  readonly cold?: CurveBundle;
}

type GridOf = (atoms: (at: Float64Array) => PerAtom) => CurveGrid;

function metalCurve(setup: Setup, vapour: MetalStage, gridOf: GridOf, shown: readonly Shown[]): Left {
  const { state } = vapour;
  const { columnDensity, columnGradient } = vapour.middle;
  const { wavelengths, perAtom: atoms } = gridOf((at) => perAtom(state, at));
  return {
    bundle: vapourBundle(setup, vapour, wavelengths, atoms),
    lines: shown.map((line) => lineGap(state, line, columnDensity, columnGradient)),
    zeroBetweenLines: zeroInView(state, shown),
  };
}

function vapourBundle(
  setup: Setup,
  vapour: MetalStage,
  wavelengths: Float64Array,
  atoms: PerAtom,
): CurveBundle {
  return curveBundle({
    wavelengths,
    perAtom: atomsByHeight(vapour, wavelengths, atoms),
    gasRefractivityPerDensity: gasRefractivityPerDensity(setup.vessel.gas, setup.path.centreWavelength),
    columns: vapour.columns,
    weights: vapour.weights,
  });
}

/** The light of another vapour in the same setup, through the bench, on given wavelengths in m. */
export function bundleAt(setup: Setup, vapour: MetalStage, wavelengths: Float64Array): CurveBundle {
  const { path, vessel } = setup;
  return throughBench(vapourBundle(setup, vapour, wavelengths, perAtom(vapour.state, wavelengths)), path, {
    heights: vapour.columns.heights,
    edges: benchEdges(path, vessel),
    hot: true,
    sizes: colourHeights(path, vessel, wavelengths),
  });
}

function solutionCurve(solution: SolutionOptics, gridOf: GridOf): Left {
  const { wavelengths } = gridOf((at) => solution.perMolecule(at));
  return {
    bundle: solution.dyed(wavelengths),
    cold: solution.clear(wavelengths),
    lines: [],
    zeroBetweenLines: null,
  };
}

/**
 * Response per atom at each height of the beam: denser slices broaden their own lines more. Away from the dark core the
 * cross-section grows linearly with the density through the width, so two densities serve for all heights.
 */
function atomsByHeight(vapour: MetalStage, wavelengths: Float64Array, middle: PerAtom): readonly PerAtom[] {
  const densities = vapour.columns.effectiveDensity;
  const here = vapour.state.density;
  const there = densities.reduce((far, n) => (Math.abs(n - here) > Math.abs(far - here) ? n : far), here);
  if (there === here) return Array.from(densities, () => middle);
  const other = perAtom({ ...vapour.state, density: there }, wavelengths);
  return Array.from(densities, (density) => {
    const share = (density - here) / (there - here);
    const mix = (a: Float64Array, b: Float64Array): Float64Array =>
      a.map((value, i) => Math.max(0, value + share * (b[i] - value)));
    return {
      refractivityPerDensity: middle.refractivityPerDensity,
      crossSection: mix(middle.crossSection, other.crossSection),
    };
  });
}

interface Shown {
  readonly id: string;
  readonly wavelength: number;
}

/** Lines of the metal that fall on the sensor, by wavelength. */
function linesInView(setup: Setup, map: SpectralMap): Shown[] {
  const half = (setup.camera.columns * setup.camera.pixel) / 2;
  const from = map.wavelengthAt(Math.max(-half, map.reach.left));
  const to = map.wavelengthAt(Math.min(half, map.reach.right));
  return linesIn(setup)
    .filter((line) => line.wavelength > from && line.wavelength < to)
    .map((line) => ({ id: line.id, wavelength: line.wavelength }))
    .sort((a, b) => a.wavelength - b.wavelength);
}

function zeroInView(state: VapourState, lines: readonly { wavelength: number }[]): number | null {
  const [first, second] = lines;
  if (first === undefined || second === undefined) return null;
  return zerosBetweenLines(state, first.wavelength, second.wavelength)[0] ?? null;
}

/** The curve of the cold tube on the same wavelengths: undeflected, undimmed, without lines. */
export function coldCurve(curve: CurveStage): CurveStage {
  const bundle = curve.coldBundle ?? coldBundle(curve.bundle.wavelengths);
  const cold = { ...curve, bundle, lines: [], zeroBetweenLines: null, cold: true } as const;
  if (curve.setup === undefined) return cold;
  const { path, vessel } = curve.setup;
  const heights = Float64Array.of(path.beamHeight);
  const through = throughBench(bundle, path, {
    heights,
    edges: benchEdges(path, vessel),
    hot: false,
    sizes: colourHeights(path, vessel, bundle.wavelengths),
  });
  return { ...cold, bundle: through, vapourBundle: bundle };
}
