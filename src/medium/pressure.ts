/**
 * Vapour pressure over the liquid or solid metal, and the number density that goes with it. Equations and tables are
 * published ones (data/vapour-pressure.json); which is the default, and why: docs/decisions/0201-vapour-pressure.md.
 */
import { exp, log, log10, pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import type { PressureEquation, PressureEquationId, VapourPressureRecord } from "../reference/index.ts";
import { BOLTZMANN, vapourPressureOf } from "../reference/index.ts";

/** What may be chosen: a published equation, or the CRC Handbook's table interpolated. */
export type PressureChoice = PressureEquationId | "crc";

export const PRESSURE_CHOICES: readonly PressureChoice[] = [
  "alcock-practical",
  "alcock-precise",
  "nesmeyanov",
  "crc",
];

export const DEFAULT_PRESSURE: PressureChoice = "alcock-practical";

/** A saturation pressure with what a careful reader asks next. */
export interface Saturation {
  /** Pa */
  readonly pressure: number;
  readonly phase: "solid" | "liquid";
  /** what was evaluated: the choice, or what stood in where that choice has no branch */
  readonly used: PressureChoice;
  readonly chosen: PressureChoice;
  /** published range of what was used, K; undefined where the source states none */
  readonly range: readonly [number, number] | undefined;
  /** true where T lies outside that range */
  readonly extrapolated: boolean;
  readonly source: string;
  readonly origin: string;
}

/** Melting point at atmospheric pressure, K. Refuses an unknown element. */
export function meltingPoint(element: string): number {
  return vapourPressureOf(element).meltingPoint.value;
}

/**
 * Saturation pressure of the vapour over its own condensed phase, Pa: solid below the melting point, liquid above.
 *
 * log₁₀(p/unit) = a + b/T + c·log₁₀T + d·T, or for "crc" log p linear in 1/T between the tabulated points.
 * Range: any T > 0 is answered; outside the published range of the equation the answer is an extrapolation
 * (`saturation` says so). Accuracy 5 % (alcock-practical), 1 % (alcock-precise) within the range, by their authors.
 *
 * @param temperature of the metal's surface, K, > 0
 * @param equation default "alcock-practical"
 * @throws Refusal for an unknown element or equation, and for T that is no positive number
 */
export function saturationPressure(element: string, temperature: number, equation?: string): number {
  return saturation(element, temperature, equation).pressure;
}

/** Number density N = p_sat/(k_B T) of the vapour in equilibrium, m⁻³; arguments as `saturationPressure`. */
export function saturatedDensity(element: string, temperature: number, equation?: string): number {
  return saturationPressure(element, temperature, equation) / (BOLTZMANN * temperature);
}

/** As `saturationPressure`, with phase, range and source. */
export function saturation(
  element: string,
  temperature: number,
  equation: string = DEFAULT_PRESSURE,
): Saturation {
  const chosen = pressureChoice(equation);
  const record = vapourPressureOf(element);
  if (!(temperature > 0 && temperature < Infinity)) {
    throw new Refusal({
      code: "temperature-not-positive",
      field: "temperature",
      received: `${String(temperature)} K`,
      expected: "a temperature above 0 K",
    });
  }
  const phase = temperature < record.meltingPoint.value ? "solid" : "liquid";
  if (chosen === "crc") return fromTable(record, temperature, phase, chosen);
  const order: readonly PressureChoice[] = [chosen, "alcock-practical"];
  for (const id of order) {
    const branch = record.equations.find((each) => each.id === id && each.phase === phase);
    if (branch !== undefined) return fromEquation(branch, temperature, chosen);
  }
  // Neither has this branch (liquid Mg, Ca, Sr; solid Hg): the handbook's table, which covers both phases.
  return fromTable(record, temperature, phase, chosen);
}

function pressureChoice(text: string): PressureChoice {
  const found = PRESSURE_CHOICES.find((each) => each === text);
  if (found !== undefined) return found;
  throw new Refusal({
    code: "unknown-pressure-equation",
    field: "pressureEquation",
    received: `"${text}"`,
    expected: `one of ${PRESSURE_CHOICES.join(", ")}`,
  });
}

function fromEquation(branch: PressureEquation, temperature: number, chosen: PressureChoice): Saturation {
  const { a, b, c, d, temperatureMin, temperatureMax } = branch;
  const exponent = a + b / temperature + c * log10(temperature) + d * temperature;
  const range =
    temperatureMin === undefined || temperatureMax === undefined
      ? undefined
      : ([temperatureMin, temperatureMax] as const);
  return {
    pressure: branch.unitPressure * pow(10, exponent),
    phase: branch.phase,
    used: branch.id,
    chosen,
    range,
    extrapolated: range !== undefined && (temperature < range[0] || temperature > range[1]),
    source: branch.source,
    origin: branch.origin,
  };
}

function fromTable(
  record: VapourPressureRecord,
  temperature: number,
  phase: "solid" | "liquid",
  chosen: PressureChoice,
): Saturation {
  const { pressures, temperatures, source, origin } = record.crc;
  const last = temperatures.length - 1;
  let k = 0;
  while (k < last - 1 && temperature > temperatures[k + 1]) k++;
  const slope = log(pressures[k + 1] / pressures[k]) / (1 / temperatures[k + 1] - 1 / temperatures[k]);
  const range = [temperatures[0], temperatures[last]] as const;
  return {
    pressure: pressures[k] * exp(slope * (1 / temperature - 1 / temperatures[k])),
    phase,
    used: "crc",
    chosen,
    range,
    extrapolated: temperature < range[0] || temperature > range[1],
    source,
    origin,
  };
}
