/** What limits an answer about a vapour, stated with the answer and not in prose only. */
import { hypot } from "../numerics/elementary/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { BOLTZMANN, linesOf, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { LineComponent, VapourState } from "./api.ts";
import { vapourComponents } from "./components.ts";
import type { Saturation } from "./pressure.ts";
import { packComponents, susceptibility } from "./susceptibility.ts";
import { lineWidths } from "./widths.ts";

export interface MediumWarning {
  /** stable short code, kebab case */
  readonly code:
    | "dimers-likely"
    | "local-field"
    | "self-broadening-above-doppler"
    | "impact-limit"
    | "estimated-broadening"
    | "memory-value"
    | "lower-bound-decay"
    | "no-isotope-structure"
    | "pressure-extrapolated"
    | "pressure-stand-in"
    | "gas-refractivity-left-out";
  /** one sentence */
  readonly sentence: string;
  /** ids of the lines concerned; empty where it concerns the vapour as a whole */
  readonly lines: readonly string[];
}

/** Partial pressure from which two-atom molecules of the alkali metals are worth a word, Pa: about 0.5 % of the atoms. */
const DIMER_PRESSURE = 100;
const ALKALI: ReadonlySet<string> = new Set(["Li", "Na", "K", "Rb", "Cs"]);
/** |χ| from which the local field shifts a line noticeably. */
const LOCAL_FIELD = 0.01;
/** Distance from a line beyond which collisions no longer act as brief impacts, m (order of magnitude). */
const IMPACT_LIMIT = 0.3e-9;

/**
 * Everything that should be said beside a result for this state.
 *
 * @param reach largest distance from a line that is looked at, m: above 0.3 nm the Lorentz wing is beyond the impact
 *   limit; leave out where no wavelengths are in play
 */
export function vapourWarnings(state: VapourState, reach?: number): readonly MediumWarning[] {
  const components = vapourComponents(state);
  return [
    ...dimers(state),
    ...localField(state, components),
    ...selfAboveDoppler(state, components),
    ...(reach !== undefined && reach > IMPACT_LIMIT ? [impactLimit()] : []),
    ...estimates(state),
    ...memory(state),
    ...lowerBounds(state),
    ...noStructure(state, components),
  ];
}

function dimers(state: VapourState): MediumWarning[] {
  const pressure = state.density * BOLTZMANN * state.temperature;
  if (!ALKALI.has(state.element) || pressure < DIMER_PRESSURE) return [];
  const sentence = `Vapour of ${formatQuantity(pressure, "Pa", { digits: 2 })} holds molecules of two ${state.element} atoms, whose absorption bands are not in the model.`;
  return [{ code: "dimers-likely", sentence, lines: [] }];
}

function localField(state: VapourState, components: readonly LineComponent[]): MediumWarning[] {
  const omegas = Float64Array.from(
    components,
    (each) => (2 * Math.PI * SPEED_OF_LIGHT) / each.wavelength + each.shift,
  );
  const chi = susceptibility(packComponents(components, state.density), omegas);
  let largest = 0;
  const lines = new Set<string>();
  components.forEach((each, k) => {
    const size = hypot(chi.re[k], chi.im[k]);
    largest = Math.max(largest, size);
    if (size > LOCAL_FIELD) lines.add(each.line);
  });
  if (lines.size === 0) return [];
  const sentence = `|χ| reaches ${largest.toPrecision(2)} in the core: the shift of the line by the local field, of this order in widths, is not in the model.`;
  return [{ code: "local-field", sentence, lines: [...lines] }];
}

function selfAboveDoppler(state: VapourState, components: readonly LineComponent[]): MediumWarning[] {
  const lines = linesOf(state.element).filter((line) => {
    const own = components.find((each) => each.line === line.id)!;
    // Doppler FWHM is 2√(ln 2) times the 1/e half width
    return lineWidths(line, state).self > 2 * Math.sqrt(Math.LN2) * own.dopplerWidth;
  });
  if (lines.length === 0) return [];
  const sentence = `Self-broadening exceeds the Doppler width of ${named(lines)}: there n − 1 no longer grows with the density.`;
  return [{ code: "self-broadening-above-doppler", sentence, lines: lines.map((line) => line.id) }];
}

function impactLimit(): MediumWarning {
  const sentence =
    "The Lorentz wing is used beyond about 0.3 nm from a line, where collisions are no longer brief impacts: absorption there may be off by a factor of two or more, n − 1 is not concerned.";
  return { code: "impact-limit", sentence, lines: [] };
}

function estimates(state: VapourState): MediumWarning[] {
  if (state.overrides?.gasWidth !== undefined) return [];
  const found: MediumWarning[] = [];
  for (const line of linesOf(state.element)) {
    const broadening = lineWidths(line, state).broadening;
    if (broadening === undefined || broadening.basis === "published") continue;
    const how =
      broadening.basis === "sister-line"
        ? `taken from the other line of the pair (${broadening.source})`
        : `an estimate, ${broadening.source}, right within a factor of two`;
    const sentence = `Width and shift of ${named([line])} by ${state.gas?.species ?? "the gas"}: no published figure stored; ${how}.`;
    found.push({ code: "estimated-broadening", sentence, lines: [line.id] });
  }
  return found;
}

function memory(state: VapourState): MediumWarning[] {
  const found: MediumWarning[] = [];
  for (const line of linesOf(state.element)) {
    const parts: string[] = [];
    if (line.sources.wavelength.origin === "memory") parts.push("wavelength");
    if (line.sources.strength.origin === "memory") parts.push("strength");
    if (line.sources.upperDecayRate.origin === "memory") parts.push("decay rate");
    const broadening =
      state.overrides?.gasWidth === undefined ? lineWidths(line, state).broadening : undefined;
    if (broadening?.basis === "published" && broadening.fromMemory) parts.push("gas broadening");
    if (parts.length === 0) continue;
    const sentence = `${parts.join(" and ")} of ${named([line])}: value from memory, not checked against a published copy.`;
    found.push({
      code: "memory-value",
      sentence: sentence[0].toUpperCase() + sentence.slice(1),
      lines: [line.id],
    });
  }
  return found;
}

function lowerBounds(state: VapourState): MediumWarning[] {
  const lines = linesOf(state.element).filter((line) =>
    line.sources.upperDecayRate.note?.includes("lower bound"),
  );
  if (lines.length === 0) return [];
  const sentence = `No total decay rate of the upper level is stored for ${named(lines)}: the natural width is a lower bound.`;
  return [{ code: "lower-bound-decay", sentence, lines: lines.map((line) => line.id) }];
}

function noStructure(state: VapourState, components: readonly LineComponent[]): MediumWarning[] {
  if (state.structure === "merged") return [];
  const lines = linesOf(state.element).filter((line) => {
    const own = components.filter((each) => each.line === line.id);
    return own.length > 1 && new Set(own.map((each) => each.wavelength)).size === 1;
  });
  if (lines.length === 0) return [];
  const sentence = `Isotope shifts and hyperfine constants of ${state.element} are not stored: the components of ${named(lines)} coincide.`;
  return [{ code: "no-isotope-structure", sentence, lines: lines.map((line) => line.id) }];
}

/** Warnings that a saturation pressure brings with it. */
export function pressureWarnings(
  element: string,
  temperature: number,
  result: Saturation,
): readonly MediumWarning[] {
  const found: MediumWarning[] = [];
  if (result.used !== result.chosen) {
    const sentence = `${result.chosen} has no branch for ${result.phase} ${element}: ${result.used} stands in.`;
    found.push({ code: "pressure-stand-in", sentence, lines: [] });
  }
  if (result.extrapolated && result.range !== undefined) {
    const [low, high] = result.range;
    const sentence = `${temperature.toPrecision(4)} K lies outside ${low} K to ${high} K, the range of the pressure equation (${result.used}): extrapolated.`;
    found.push({ code: "pressure-extrapolated", sentence, lines: [] });
  }
  return found;
}

const named = (lines: readonly { element: string; wavelength: number }[]): string =>
  lines.map((line) => `${line.element} ${(line.wavelength * 1e9).toFixed(1)} nm`).join(", ");
