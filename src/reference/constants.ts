/** Constants of nature, CODATA 2022, as stored in data/constants.json with their sources. */
import data from "../../data/constants.json" with { type: "json" };
import type { SourcedValue } from "./record.ts";
import { list, originOf, record, sourced, text } from "./record.ts";

export interface ConstantRecord extends SourcedValue {
  /** short symbol, e.g. "k_B" */
  readonly id: string;
  /** in words; its symbol where none is stored */
  readonly name: string;
  /** defined, without uncertainty */
  readonly exact: boolean;
}

function read(entry: unknown, i: number): ConstantRecord {
  const where = `constants.json entry ${i}`;
  const raw = record(entry, where);
  const id = text(raw["id"], where);
  const value = sourced(raw, `constants.json ${id}`);
  const origin = raw["note"] === undefined ? value.origin : originOf(raw["origin"], where);
  return { ...value, origin, id, name: text(raw["name"] ?? id, where), exact: raw["exact"] === true };
}

/** Every stored constant. */
export const CONSTANTS: readonly ConstantRecord[] = list(data.entries, "constants.json").map(read);

function numeric(id: string): number {
  const found = CONSTANTS.find((constant) => constant.id === id);
  if (found === undefined) throw new Error(`reference data, constants.json: ${id} is missing`);
  return found.value;
}

/** m/s */
export const SPEED_OF_LIGHT = numeric("c");
/** J·s */
export const PLANCK = numeric("h");
/** J·s */
export const HBAR = numeric("hbar");
/** C */
export const ELEMENTARY_CHARGE = numeric("e");
/** kg */
export const ELECTRON_MASS = numeric("m_e");
/** F/m */
export const VACUUM_PERMITTIVITY = numeric("eps0");
/** J/K */
export const BOLTZMANN = numeric("k_B");
/** 1/mol */
export const AVOGADRO = numeric("N_A");
/** kg */
export const ATOMIC_MASS = numeric("u");
/** m */
export const CLASSICAL_ELECTRON_RADIUS = numeric("r_e");
/** m */
export const BOHR_RADIUS = numeric("a_0");
/** 1/m */
export const RYDBERG = numeric("R_inf");
/** J/(mol·K) */
export const GAS_CONSTANT = numeric("R");
/** J/T */
export const BOHR_MAGNETON = numeric("mu_B");
/** W/(m²·K⁴) */
export const STEFAN_BOLTZMANN = numeric("sigma_SB");
/** m·K */
export const WIEN_DISPLACEMENT = numeric("b_Wien");
/** Pa */
export const ATMOSPHERE = numeric("atm");
/** Pa, 101325/760 */
export const TORR = numeric("torr");
/** K */
export const ICE_POINT = numeric("T_ice");
/** number density of an ideal gas at 273.15 K and 101325 Pa, 1/m³ */
export const LOSCHMIDT = numeric("n_0");
