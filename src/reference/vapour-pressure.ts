/** Published vapour-pressure equations and tables of the metals, from data/vapour-pressure.json. */
import data from "../../data/vapour-pressure.json" with { type: "json" };
import { knownElement } from "./lines.ts";
import type { Json, Origin, SourcedValue } from "./record.ts";
import { finite, finites, list, optionalText, originOf, record, sourced, text } from "./record.ts";

export type PressureEquationId = "alcock-practical" | "alcock-precise" | "nesmeyanov";

/**
 * One branch: log10(p/unit) = a + b/T + c·log10 T + d·T with T in K.
 * (Alcock's D is stored per 1000 K, Nesmeyanov's C and D in the other order: both are brought to this one form.)
 */
export interface PressureEquation {
  readonly id: PressureEquationId;
  readonly phase: "solid" | "liquid";
  readonly a: number;
  /** K */
  readonly b: number;
  readonly c: number;
  /** 1/K */
  readonly d: number;
  /** unit of the pressure, Pa: 101325 for atm, 101325/760 for Torr */
  readonly unitPressure: number;
  /** range of validity as published, K; undefined where the source states none */
  readonly temperatureMin: number | undefined;
  readonly temperatureMax: number | undefined;
  /** as published, e.g. "5 %" */
  readonly uncertainty: string | undefined;
  readonly source: string;
  readonly origin: Origin;
}

/** Temperatures at round pressures. */
export interface PressureTable {
  /** Pa, ascending */
  readonly pressures: readonly number[];
  /** K, same length */
  readonly temperatures: readonly number[];
  readonly source: string;
  readonly origin: Origin;
}

export interface VapourPressureRecord {
  readonly element: string;
  /** K */
  readonly meltingPoint: SourcedValue;
  /** every published branch; a phase that a source does not cover has none */
  readonly equations: readonly PressureEquation[];
  /** CRC Handbook */
  readonly crc: PressureTable;
  /** other fits as published, in words */
  readonly further: readonly { readonly form: string; readonly source: string; readonly origin: Origin }[];
}

const ATM = 101325;
const TORR = ATM / 760;

function phaseOf(value: unknown, where: string): "solid" | "liquid" {
  if (value === "solid" || value === "liquid") return value;
  throw new Error(`reference data, ${where}: no phase`);
}

function alcock(entry: Json, key: string, id: PressureEquationId, where: string): PressureEquation[] {
  return list(entry[key], `${where} ${key}`).flatMap((each) => {
    const raw = record(each, where);
    if (raw["missing"] === true) return [];
    const validity = record(raw["validity"], `${where} ${key} validity`);
    return [
      {
        id,
        phase: phaseOf(raw["phase"], where),
        a: finite(raw["A"], where),
        b: finite(raw["B"], where),
        c: finite(raw["C"], where),
        d: finite(raw["D"], where) * 1e-3,
        unitPressure: ATM,
        temperatureMin: finite(validity["T_min"], where),
        temperatureMax: finite(validity["T_max"], where),
        uncertainty: optionalText(raw["uncertainty"]),
        source: text(raw["source"], where),
        origin: originOf(raw["origin"], where),
      },
    ];
  });
}

function nesmeyanov(value: unknown, where: string): PressureEquation[] {
  if (value === undefined) return [];
  const raw = record(value, where);
  return list(raw["branches"], where).map((each) => {
    const branch = record(each, where);
    return {
      id: "nesmeyanov",
      phase: phaseOf(branch["phase"], where),
      a: finite(branch["A"], where),
      b: finite(branch["B"], where),
      c: finite(branch["D"], where),
      d: finite(branch["C"], where),
      unitPressure: TORR,
      temperatureMin: undefined,
      temperatureMax: undefined,
      uncertainty: undefined,
      source: text(raw["source"], where),
      origin: originOf(raw["origin"], where),
    };
  });
}

function table(value: unknown, where: string): PressureTable {
  const raw = record(value, where);
  const pressures = finites(raw["pressure_Pa"], where);
  const temperatures = finites(raw["temperature_K"], where);
  if (pressures.length !== temperatures.length)
    throw new Error(`reference data, ${where}: columns differ in length`);
  return {
    pressures,
    temperatures,
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
}

function read(value: unknown, i: number): VapourPressureRecord {
  const raw = record(value, `vapour-pressure.json entry ${i}`);
  const element = text(raw["species"], `vapour-pressure.json entry ${i}`);
  const where = `vapour-pressure.json ${element}`;
  const further =
    raw["further_published_fits"] === undefined ? [] : list(raw["further_published_fits"], where);
  return {
    element,
    meltingPoint: sourced(raw["melting_point"], `${where} melting_point`),
    equations: [
      ...alcock(raw, "alcock_practical", "alcock-practical", where),
      ...alcock(raw, "alcock_precise", "alcock-precise", where),
      ...nesmeyanov(raw["nesmeyanov"], `${where} nesmeyanov`),
    ],
    crc: table(raw["second_source_CRC"], `${where} second_source_CRC`),
    further: further.map((each) => {
      const fit = record(each, where);
      return {
        form: text(fit["form"], where),
        source: text(fit["source"], where),
        origin: originOf(fit["origin"], where),
      };
    }),
  };
}

/** Every stored element. */
export const VAPOUR_PRESSURES: readonly VapourPressureRecord[] = list(
  data.entries,
  "vapour-pressure.json",
).map(read);

/** General warnings that belong to the tables. */
export const VAPOUR_PRESSURE_WARNINGS: readonly string[] = data.warnings;

/** Equations, table and melting point of an element. Refuses an unknown element. */
export function vapourPressureOf(element: string, field = "element"): VapourPressureRecord {
  const found = VAPOUR_PRESSURES.find((each) => each.element === knownElement(element, field));
  if (found === undefined) throw new Error(`reference data, vapour-pressure.json: ${element} is missing`);
  return found;
}
