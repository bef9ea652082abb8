/**
 * What one atom does to light near the lines in view, tabulated so that a fit can move lines and strengths cheaply.
 * Each line in view has a table of its own on a grid that is dense at its core; all other lines share one smooth table.
 */
import type { PerAtom, VapourState } from "../medium/api.ts";
import { perAtom } from "../medium/index.ts";
import { linesOf } from "../reference/index.ts";

/** One line's share. Position t = asinh(δ/core), δ = λ − λ_line; values times a power of √(δ² + core²) vary slowly. */
interface LineTable {
  readonly wavelength: number;
  /** κ·s, s = √(δ² + core²), m⁴ */
  readonly refractivity: Float64Array;
  /** σ·s² at the reference density, m⁴ */
  readonly crossSection: Float64Array;
  /** the same at vanishing density: natural, Doppler and gas width only */
  readonly crossSectionThin: Float64Array;
}

export interface LineTables {
  readonly lines: readonly LineTable[];
  readonly rest: LineTable;
  /** density at which `crossSection` holds, m⁻³ */
  readonly density: number;
  readonly shortest: number;
  readonly longest: number;
}

/** Half a Doppler width or so of a visible line, m: where the table is densest. */
const CORE = 2e-13;
const STEP = 0.01;
const REST_COUNT = 257;
/** Share of the density that stands for "no self-broadening". */
const THIN = 1e-6;

/**
 * @param state vapour in the middle of the beam: density, temperature, gas, overrides
 * @param inView ids of the lines that get tables of their own
 * @param shortest, longest window in vacuum wavelength, m
 */
export function lineTables(
  state: VapourState,
  inView: readonly string[],
  shortest: number,
  longest: number,
): LineTables {
  const all = linesOf(state.element);
  const span = longest - shortest;
  const lines = inView.map((id) => {
    const line = all.find((l) => l.id === id);
    if (line === undefined) throw new Error(`line ${id} is not one of ${state.element}`);
    const { at, scales } = gridAbout(line.wavelength, span);
    const alone = isolated(state, (id2) => id2 === id);
    return { wavelength: line.wavelength, ...sampled(alone, at, scales) };
  });
  const at = new Float64Array(REST_COUNT);
  for (let i = 0; i < REST_COUNT; i++) at[i] = shortest + (span * i) / (REST_COUNT - 1);
  const others = isolated(state, (id) => !inView.includes(id));
  const rest = { wavelength: 0, ...sampled(others, at, new Float64Array(REST_COUNT).fill(1)) };
  return { lines, rest, density: state.density, shortest, longest };
}

/** Wavelengths about a line, dense at its core, out to `span` on both sides, and s = √(δ² + core²) at each. */
function gridAbout(wavelength: number, span: number): { at: Float64Array; scales: Float64Array } {
  const half = Math.ceil(Math.asinh(span / CORE) / STEP);
  const at = new Float64Array(2 * half + 1);
  const scales = new Float64Array(2 * half + 1);
  for (let i = 0; i < at.length; i++) {
    const offset = CORE * Math.sinh((i - half) * STEP);
    at[i] = wavelength + offset;
    scales[i] = Math.hypot(offset, CORE);
  }
  return { at, scales };
}

/** The state with every line but the wanted ones made a trillion times weaker. */
function isolated(state: VapourState, wanted: (id: string) => boolean): VapourState {
  const strengths: Record<string, number> = {};
  for (const line of linesOf(state.element)) {
    const own = state.overrides?.oscillatorStrength?.[line.id];
    if (!wanted(line.id)) strengths[line.id] = 1e-12 * line.oscillatorStrength;
    else if (own !== undefined) strengths[line.id] = own;
  }
  return { ...state, overrides: { ...state.overrides, oscillatorStrength: strengths } };
}

function sampled(state: VapourState, at: Float64Array, scales: Float64Array): Omit<LineTable, "wavelength"> {
  const dense: PerAtom = perAtom(state, at);
  const thin: PerAtom = perAtom({ ...state, density: state.density * THIN }, at);
  const n = at.length;
  const refractivity = new Float64Array(n);
  const crossSection = new Float64Array(n);
  const crossSectionThin = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const s = scales[i];
    refractivity[i] = dense.refractivityPerDensity[i] * s;
    crossSection[i] = dense.crossSection[i] * (s * s);
    crossSectionThin[i] = thin.crossSection[i] * (s * s);
  }
  return { refractivity, crossSection, crossSectionThin };
}

/**
 * κ = (n − 1)/N and σ = α/N per atom at given wavelengths.
 * @param strengths factor on each line in view; widths are proportional to strengths, so σ goes with its square
 * @param density m⁻³: σ grows from its thin to its reference value in proportion, which is exact in the wings; in the core,
 *   where broadening lowers the peak, it is kept from falling below a tenth of the thin value
 */
export function evaluateTables(
  tables: LineTables,
  wavelengths: Float64Array,
  strengths: readonly number[],
  density: number,
  refractivity: Float64Array,
  crossSection: Float64Array,
  crossSectionThin: Float64Array,
): void {
  const n = wavelengths.length;
  const share = density / tables.density;
  const last = REST_COUNT - 1;
  const toRest = last / (tables.longest - tables.shortest);
  const { rest } = tables;
  for (let i = 0; i < n; i++) {
    const x = Math.min(Math.max((wavelengths[i] - tables.shortest) * toRest, 0), last - 1e-9);
    const k = x | 0;
    const f = x - k;
    refractivity[i] = rest.refractivity[k] + f * (rest.refractivity[k + 1] - rest.refractivity[k]);
    const thin = rest.crossSectionThin[k] + f * (rest.crossSectionThin[k + 1] - rest.crossSectionThin[k]);
    const dense = rest.crossSection[k] + f * (rest.crossSection[k + 1] - rest.crossSection[k]);
    crossSectionThin[i] = thin;
    crossSection[i] = thin + share * (dense - thin);
  }
  for (let l = 0; l < tables.lines.length; l++) {
    const table = tables.lines[l];
    const strength = strengths[l];
    const top = table.refractivity.length - 1;
    const half = top / 2;
    for (let i = 0; i < n; i++) {
      const d = wavelengths[i] - table.wavelength;
      const x = Math.min(Math.max(Math.asinh(d / CORE) / STEP + half, 0), top - 1e-9);
      const k = x | 0;
      const f = x - k;
      const s2 = d * d + CORE * CORE;
      const kappa = table.refractivity[k] + f * (table.refractivity[k + 1] - table.refractivity[k]);
      const thin =
        table.crossSectionThin[k] + f * (table.crossSectionThin[k + 1] - table.crossSectionThin[k]);
      const dense = table.crossSection[k] + f * (table.crossSection[k + 1] - table.crossSection[k]);
      refractivity[i] += (strength * kappa) / Math.sqrt(s2);
      crossSectionThin[i] += (strength * strength * thin) / s2;
      crossSection[i] += (strength * strength * Math.max(thin + share * (dense - thin), 0.1 * thin)) / s2;
    }
  }
}
