/**
 * The zeros of n − 1 between neighbouring lines (tune-out wavelengths): where the curve of a hot picture crosses the cold
 * line. They hang on wavelengths and strengths alone.
 */
import { pow } from "../numerics/elementary/index.ts";
import { linesOf } from "../reference/index.ts";
import type { LineComponent, VapourState } from "./api.ts";
import { vapourComponents } from "./components.ts";
import { angularFrequencies, packComponents, susceptibility } from "./susceptibility.ts";

export interface TuneOut {
  /** vacuum wavelength, m */
  readonly wavelength: number;
  /** ids of the neighbours, shorter wavelength first */
  readonly between: readonly [string, string];
  /** standard uncertainty that the published strengths give it, taken as independent of one another, m */
  readonly standardUncertainty: number;
  /** ids of lines whose strength has no published uncertainty: left out of `standardUncertainty` */
  readonly unknownStrengths: readonly string[];
  /** change of the wavelength per relative change of a line's strength, m, by line id */
  readonly sensitivity: Readonly<Record<string, number>>;
}

/**
 * Vacuum wavelengths, m, ascending, at which n − 1 of the vapour vanishes between two lines. The crossings inside a line
 * itself are not among them: there n − 1 rises with wavelength, here it falls.
 *
 * @param from lower end of the range that is asked for, m, default 0 (the two ends may be exchanged)
 * @param to upper end, m, default no limit
 */
export function zerosBetweenLines(state: VapourState, from = 0, to = Infinity): readonly number[] {
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  return tuneOuts(state)
    .map((zero) => zero.wavelength)
    .filter((wavelength) => wavelength >= low && wavelength <= high);
}

/** Every zero between neighbouring lines of the element, with what moves it. Lines that overlap have none between them. */
export function tuneOuts(state: VapourState): readonly TuneOut[] {
  const components = vapourComponents(state);
  const spans = lineSpans(components);
  const found: TuneOut[] = [];
  for (let k = 0; k + 1 < spans.length; k++) {
    const zero = zeroIn(components, spans[k].high, spans[k + 1].low);
    if (zero !== undefined) {
      found.push({ ...zeroDetails(state, components, zero), between: [spans[k].line, spans[k + 1].line] });
    }
  }
  return found;
}

interface Span {
  readonly line: string;
  /** m; beyond both ends the line's own wing is the plain hyperbola */
  readonly low: number;
  readonly high: number;
}

/** Doppler and Lorentz widths kept clear of each component. */
const CLEARANCE = 12;

function lineSpans(components: readonly LineComponent[]): readonly Span[] {
  const spans = new Map<string, Span>();
  for (const each of components) {
    const omega = angularFrequencies(Float64Array.of(each.wavelength))[0];
    const margin = (CLEARANCE * (each.dopplerWidth + each.lorentzWidth) + Math.abs(each.shift)) / omega;
    const low = each.wavelength * (1 - margin);
    const high = each.wavelength * (1 + margin);
    const known = spans.get(each.line);
    spans.set(each.line, {
      line: each.line,
      low: Math.min(low, known?.low ?? low),
      high: Math.max(high, known?.high ?? high),
    });
  }
  return [...spans.values()].sort((a, b) => a.low - b.low);
}

function realPart(components: readonly LineComponent[], wavelength: number): number {
  const omegas = angularFrequencies(Float64Array.of(wavelength));
  return susceptibility(packComponents(components, 1), omegas).re[0];
}

/** Bisection to the last bits between two wavelengths where Re χ falls through zero; undefined where it does not. */
function zeroIn(components: readonly LineComponent[], a: number, b: number): number | undefined {
  if (!(a < b && realPart(components, a) > 0 && realPart(components, b) < 0)) return undefined;
  let low = a;
  let high = b;
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (realPart(components, middle) > 0) low = middle;
    else high = middle;
  }
}

function zeroDetails(
  state: VapourState,
  components: readonly LineComponent[],
  wavelength: number,
): Omit<TuneOut, "between"> {
  const step = 1e-7 * wavelength;
  const slope =
    (realPart(components, wavelength + step) - realPart(components, wavelength - step)) / (2 * step);
  const sensitivity: Record<string, number> = {};
  const unknownStrengths: string[] = [];
  let variance = 0;
  for (const line of linesOf(state.element)) {
    const part = realPart(
      components.filter((each) => each.line === line.id),
      wavelength,
    );
    sensitivity[line.id] = -part / slope;
    const relative = (line.strengthUncertainty ?? Number.NaN) / line.oscillatorStrength;
    if (Number.isNaN(relative)) unknownStrengths.push(line.id);
    else variance += pow(sensitivity[line.id] * relative, 2);
  }
  return { wavelength, standardUncertainty: Math.sqrt(variance), unknownStrengths, sensitivity };
}
