/** From physical parameters to the curve on the picture: the model of physics.md §5 with the beam's height averaged. */
import type { CurveOnNodes } from "./pixel-model.ts";
import { evaluateTables, type LineTables } from "./line-tables.ts";

/** What is known and stays while a fit runs. */
export interface CurveSetting {
  readonly tables: LineTables;
  /** published vacuum wavelengths of the lines that the fit moves, m, ascending; one or two */
  readonly anchors: readonly number[];
  /** index of the anchors in `tables.lines` */
  readonly anchorLines: readonly number[];
  /** lamp scale or straight line: vacuum wavelength at U pixels from the middle, m */
  wavelengthAt(along: number): number;
  /** pixels of upward shift on the picture per radian of upward deflection, negative where inverted */
  readonly pixelsPerRadian: number;
  /** half the beam's height, m */
  readonly halfBeam: number;
  /** m */
  readonly heatedLength: number;
  readonly selfBroadening: "local" | "middle";
  /** light per column without vapour, index = U + columns/2 − ½ */
  readonly spectrum: Float64Array;
  /** beam heights in −1…1 and their weights */
  readonly beam: Float64Array;
  readonly weights: Float64Array;
  readonly nodes: Float64Array;
}

export interface CurveParameters {
  /** m⁻³ and m⁻² in the middle of the beam */
  readonly gradient: number;
  readonly column: number;
  /** change of the gradient over half the beam, share */
  readonly change: number;
  /** second-order change over half the beam, share */
  readonly bow: number;
  /** place of each anchor line, pixels from the middle */
  readonly anchors: readonly number[];
  /** f(shorter)/f(longer) over its published value */
  readonly ratio: number;
  /** shift of all wavelengths at the beam's upper edge against its middle (the gas's own gradient changes too), pixels */
  readonly offsetChange: number;
  /** the undeflected line: height, slope, bend */
  readonly offset: number;
  readonly slope: number;
  readonly bend: number;
  /** brightness over the cold frame's */
  readonly brightness: number;
  /** change of the brightness from the middle of the picture to its right end, share, and the same to second order; default 0 */
  readonly colourSlope?: number;
  readonly colourBend?: number;
}

export interface CurveWorkspace {
  readonly curve: CurveOnNodes;
  readonly wavelengths: Float64Array;
  readonly refractivity: Float64Array;
  readonly crossSection: Float64Array;
  readonly crossSectionThin: Float64Array;
  /** light without vapour at each node */
  readonly source: Float64Array;
}

/** Scratch for one setting: its nodes and its light without vapour. */
export function curveWorkspace(setting: CurveSetting): CurveWorkspace {
  const n = setting.nodes.length;
  const { spectrum } = setting;
  const columns = spectrum.length;
  const source = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const at = Math.min(Math.max(setting.nodes[i] + columns / 2 - 0.5, 0), columns - 1);
    const c = Math.min(at | 0, columns - 2);
    source[i] = spectrum[c] + (at - c) * (spectrum[c + 1] - spectrum[c]);
  }
  const j = setting.beam.length;
  return {
    curve: {
      nodes: setting.nodes,
      weights: setting.weights,
      place: new Float64Array(n * j),
      light: new Float64Array(n * j),
    },
    wavelengths: new Float64Array(n),
    refractivity: new Float64Array(n),
    crossSection: new Float64Array(n),
    crossSectionThin: new Float64Array(n),
    source,
  };
}

/** Wavelength in the atoms' own scale: the lamp's scale, moved and stretched so that the anchors fall on their lines. */
export function atomWavelength(
  setting: Pick<CurveSetting, "anchors" | "wavelengthAt">,
  anchors: readonly number[],
  along: number,
): number {
  const here = setting.wavelengthAt(along);
  const a = setting.wavelengthAt(anchors[0]);
  if (anchors.length === 1) return here - a + setting.anchors[0];
  const b = setting.wavelengthAt(anchors[1]);
  return setting.anchors[0] + ((here - a) * (setting.anchors[1] - setting.anchors[0])) / (b - a);
}

/** The same at many places, "U" of each; the places of the anchors are looked up once. */
export function fillWavelengths(
  setting: Pick<CurveSetting, "anchors" | "wavelengthAt">,
  anchors: readonly number[],
  places: Float64Array,
  out: Float64Array,
): void {
  const a = setting.wavelengthAt(anchors[0]);
  const pair = anchors.length > 1;
  const b = pair ? setting.wavelengthAt(anchors[1]) : 0;
  const first = setting.anchors[0];
  const apart = pair ? setting.anchors[1] - first : 0;
  for (let i = 0; i < places.length; i++) {
    const here = setting.wavelengthAt(places[i]);
    out[i] = pair ? first + ((here - a) * apart) / (b - a) : here - a + first;
  }
}

/** Fills the workspace's curve. Strength ratio: the stronger line keeps its published strength. */
export function fillCurve(setting: CurveSetting, p: CurveParameters, work: CurveWorkspace): void {
  fillAtoms(setting, p, work);
  fillPlaces(setting, p, work);
}

/** What one atom does at each node: depends on the lines' places, the strength ratio and the column density only. */
export function fillAtoms(setting: CurveSetting, p: CurveParameters, work: CurveWorkspace): void {
  const { nodes, tables } = setting;
  fillWavelengths(setting, p.anchors, nodes, work.wavelengths);
  evaluateTables(
    tables,
    work.wavelengths,
    lineStrengths(setting, p.ratio),
    Math.max(p.column, 0) / setting.heatedLength,
    work.refractivity,
    work.crossSection,
    work.crossSectionThin,
  );
}

/** Where the light of each height goes and how much of it is left, from what one atom does. */
export function fillPlaces(setting: CurveSetting, p: CurveParameters, work: CurveWorkspace): void {
  const { nodes, beam } = setting;
  const n = nodes.length;
  const { place, light } = work.curve;
  const perGradient = setting.pixelsPerRadian;
  const { source } = work;
  const colourSlope = p.colourSlope ?? 0;
  const colourBend = p.colourBend ?? 0;
  const perColumn = 2 / setting.spectrum.length;
  for (let j = 0; j < beam.length; j++) {
    const t = beam[j];
    const gradient = p.gradient * (1 + t * (p.change + t * p.bow));
    const column = Math.max(
      p.column + p.gradient * setting.halfBeam * t * (1 + t * (p.change / 2 + (t * p.bow) / 3)),
      0,
    );
    // Local self-broadening: the part of σ that grows with density grows with this height's own column.
    const growth = setting.selfBroadening === "local" && p.column > 0 ? column / p.column : 1;
    const base = j * n;
    const offset = p.offset + t * p.offsetChange;
    for (let i = 0; i < n; i++) {
      const u = nodes[i];
      place[base + i] = offset + p.slope * u + p.bend * u * u + perGradient * work.refractivity[i] * gradient;
      const thin = work.crossSectionThin[i];
      const sigma = thin + growth * (work.crossSection[i] - thin);
      const x = u * perColumn;
      const colour = Math.max(1 + x * (colourSlope + x * colourBend), 0);
      light[base + i] = p.brightness * colour * source[i] * Math.exp(-sigma * column);
    }
  }
}
/** Factor on each tabulated line's published strength. */
export function lineStrengths(setting: CurveSetting, ratio: number): number[] {
  const strengths = setting.tables.lines.map(() => 1);
  if (setting.anchorLines.length === 2) {
    const [a, b] = setting.anchorLines;
    const peak = (l: number): number => Math.abs(setting.tables.lines[l].refractivity[0]);
    if (peak(a) >= peak(b)) strengths[b] = 1 / ratio;
    else strengths[a] = ratio;
  }
  return strengths;
}

/** Gauss–Legendre nodes in −1…1 with weights that sum to 1, by Newton's method on the Legendre polynomial. */
export function beamNodes(count: number): { beam: Float64Array; weights: Float64Array } {
  const beam = new Float64Array(count);
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let pass = 0; pass < 50; pass++) {
      let p0 = 1;
      let p1 = x;
      for (let k = 2; k <= count; k++) [p0, p1] = [p1, ((2 * k - 1) * x * p1 - (k - 1) * p0) / k];
      slope = (count * (x * p1 - p0)) / (x * x - 1);
      const step = p1 / slope;
      x -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    beam[count - 1 - i] = x;
    weights[count - 1 - i] = 1 / ((1 - x * x) * slope * slope);
  }
  return { beam, weights };
}
