/** The dark gap that one line cuts into the spectrum behind a column of vapour. */
import { log, pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import { CLASSICAL_ELECTRON_RADIUS, lineById, SPEED_OF_LIGHT } from "../reference/index.ts";
import type { LineComponent, VapourState } from "./api.ts";
import { lineComponents, lowerPopulation } from "./components.ts";
import { checkState } from "./state.ts";
import { packComponents, susceptibility } from "./susceptibility.ts";
import { lineWidths } from "./widths.ts";

export interface HalfGap {
  /** mean distance of the two edges from the line's centre, m; 0 where more than the share passes even at the centre */
  readonly halfGap: number;
  /** edge on the short-wavelength side, vacuum, m */
  readonly blueEdge: number;
  /** edge on the long-wavelength side, vacuum, m */
  readonly redEdge: number;
  /** the square-root law λ²/(2πc)·√(π r_e c f γ N L/ln(1/T)), m */
  readonly closedForm: number;
}

/**
 * Distance from the centre of a line at which a stated share of the light is left, from the line's full shape (its own
 * components only, centred on their strength-weighted mean), with the square-root law beside it.
 *
 * @param lineId as in data/lines.json
 * @param columnDensity ∫N dz of the metal, m⁻², ≥ 0
 * @param transmission share left at the edge, 0…1, default ½
 * @throws Refusal for a line of another element, a negative column or a share outside 0…1
 */
export function halfGap(
  state: VapourState,
  lineId: string,
  columnDensity: number,
  transmission = 0.5,
): HalfGap {
  checkState(state);
  const line = lineById(lineId);
  refuseUnless(line.element === state.element, "line", lineId, `a line of ${state.element}`);
  refuseUnless(
    columnDensity >= 0 && columnDensity < Infinity,
    "columnDensity",
    columnDensity,
    "0 m⁻² or more",
  );
  refuseUnless(transmission > 0 && transmission < 1, "transmission", transmission, "a share between 0 and 1");
  const components = lineComponents(line, state);
  const depth = log(1 / transmission);
  const omegas = components.map((each) => (2 * Math.PI * SPEED_OF_LIGHT) / each.wavelength + each.shift);
  const centre = omegas.reduce((sum, omega, k) => sum + omega * components[k].weight, 0);
  const closedForm = closedFormGap(state, lineId, columnDensity, transmission);
  const wanted = (omega: number) => columnDensity * crossSection(components, omega) - depth;
  const reach = Math.max(...components.map((each) => each.dopplerWidth + each.lorentzWidth));
  const edges = [Math.max(...omegas), Math.min(...omegas)].map((outermost, side) =>
    edge(wanted, omegas, outermost, side === 0 ? 1 : -1, reach),
  );
  const [blueEdge, redEdge] = edges.map((omega) => (2 * Math.PI * SPEED_OF_LIGHT) / (omega ?? centre));
  return { halfGap: (redEdge - blueEdge) / 2, blueEdge, redEdge, closedForm };
}

/** The square-root law for the half-gap, m; arguments as `halfGap`. Holds where the edge lies in the Lorentz wing. */
export function closedFormGap(
  state: VapourState,
  lineId: string,
  columnDensity: number,
  transmission = 0.5,
): number {
  const line = lineById(lineId);
  const strength =
    (state.overrides?.oscillatorStrength?.[line.id] ?? line.oscillatorStrength) *
    lowerPopulation(line, state.temperature);
  const gamma = lineWidths(line, state).lorentz;
  const perColumn = Math.PI * CLASSICAL_ELECTRON_RADIUS * SPEED_OF_LIGHT * strength * gamma;
  const detuning = Math.sqrt((perColumn * columnDensity) / log(1 / transmission));
  return (pow(line.wavelength, 2) * detuning) / (2 * Math.PI * SPEED_OF_LIGHT);
}

/** Cross-section ω Im χ/(cN) of the components at one angular frequency, m². */
function crossSection(components: readonly LineComponent[], omega: number): number {
  const chi = susceptibility(packComponents(components, 1), Float64Array.of(omega));
  return (omega * chi.im[0]) / SPEED_OF_LIGHT;
}

/**
 * Angular frequency of the outer edge on one side: doubled outward from the outermost component until the light
 * passes, then bisected. Where that component is not dark the next inward is tried; undefined where none is.
 */
function edge(
  wanted: (omega: number) => number,
  omegas: readonly number[],
  outermost: number,
  side: 1 | -1,
  reach: number,
): number | undefined {
  const order = [...omegas].sort((a, b) => side * (b - a));
  const start = order.find((omega) => wanted(omega) > 0);
  if (start === undefined) return undefined;
  let step = side * (outermost - start) + reach;
  while (wanted(start + side * step) > 0 && step < outermost / 2) step *= 2;
  let inside = start;
  let outside = start + side * step;
  for (let k = 0; k < 90; k++) {
    const middle = (inside + outside) / 2;
    if (wanted(middle) > 0) inside = middle;
    else outside = middle;
  }
  return (inside + outside) / 2;
}

function refuseUnless(holds: boolean, field: string, received: string | number, expected: string): void {
  if (!holds) throw new Refusal({ code: `bad-${field}`, field, received: String(received), expected });
}
