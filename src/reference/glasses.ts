/** Dispersion formulae and tables of glasses, silica, water, air and gases, from data/glasses.json. */
import data from "../../data/glasses.json" with { type: "json" };
import { Refusal, toCoherent } from "../quantity/index.ts";
import type { Json, Origin, SourcedValue } from "./record.ts";
import { finite, finites, list, optionalSourced, optionalText, originOf, record, text } from "./record.ts";

/** n² − 1 = Σ Bᵢ λ²/(λ² − Cᵢ) */
export interface Sellmeier {
  /** 1 */
  readonly strengths: readonly number[];
  /** m² */
  readonly resonances: readonly number[];
  /** m, in the medium (air or vacuum) in which the formula counts wavelengths */
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
}

export interface GlassRecord extends Sellmeier {
  /** six-digit code: (n_d − 1)·1000, then V_d·10 */
  readonly code: string;
  /** e.g. "dense flint" */
  readonly kind: string;
  /** relative to air, d line */
  readonly indexD: SourcedValue | undefined;
  /** Abbe number */
  readonly abbe: SourcedValue | undefined;
  readonly uncertainty: string | undefined;
  readonly source: string;
  readonly origin: Origin;
}

/** n − 1 = constant + Σ aⱼ/(bⱼ − s²) with s = 1/λ, at the stated temperature and 101325 Pa. */
export interface GasDispersion {
  readonly id: string;
  readonly constant: number;
  /** 1/m² */
  readonly strengths: readonly number[];
  /** 1/m² */
  readonly resonances: readonly number[];
  /** m; undefined where the source states no range */
  readonly wavelengthMin: number | undefined;
  readonly wavelengthMax: number | undefined;
  /** K */
  readonly temperature: number;
  /** Pa */
  readonly pressure: number;
  readonly source: string;
  readonly origin: Origin;
}

/** Measured complex index. */
export interface ComplexIndexTable {
  readonly id: string;
  /** vacuum wavelength, m, ascending */
  readonly wavelengths: readonly number[];
  readonly n: readonly number[];
  readonly k: readonly number[];
  readonly source: string;
  readonly origin: Origin;
}

const MICROMETRE2 = 1e-12;

function range(raw: Json, where: string): { wavelengthMin: number; wavelengthMax: number } {
  const validity = record(raw["validity"], `${where} validity`);
  return {
    wavelengthMin: toCoherent(finite(validity["wavelength_min"], where), "um"),
    wavelengthMax: toCoherent(finite(validity["wavelength_max"], where), "um"),
  };
}

/** Stored glasses. */
export const GLASSES: readonly GlassRecord[] = list(data.entries, "glasses.json").map((each, i) => {
  const raw = record(each, `glasses.json entry ${i}`);
  const code = text(raw["glass_code"], `glasses.json entry ${i}`);
  const where = `glasses.json ${code}`;
  return {
    code,
    kind: text(raw["kind"], where),
    strengths: finites(raw["B"], where),
    resonances: finites(raw["C_um2"], where).map((c) => c * MICROMETRE2),
    ...range(raw, where),
    indexD: optionalSourced(raw["n_d"], `${where} n_d`),
    abbe: optionalSourced(raw["V_d"], `${where} V_d`),
    uncertainty: optionalText(raw["uncertainty"]),
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
});

/** Six-digit codes of the stored glasses. */
export function glassCodes(): readonly string[] {
  return GLASSES.map((glass) => glass.code);
}

/** Glass with this six-digit code. Refuses an unknown one and names the nearest in n_d. */
export function glassByCode(code: string, field = "glass"): GlassRecord {
  const found = GLASSES.find((glass) => glass.code === code);
  if (found !== undefined) return found;
  const index = Number(code.slice(0, 3));
  const distance = (glass: GlassRecord): number => Math.abs(Number(glass.code.slice(0, 3)) - index);
  const near = [...GLASSES].sort((a, b) => distance(a) - distance(b))[0];
  throw new Refusal({
    code: "unknown-glass",
    field,
    received: `"${code}"`,
    expected: `a six-digit glass code, one of ${glassCodes().join(", ")}`,
    ...(/^\d{6}$/.test(code) ? { hint: `nearest in index is ${near.code}` } : {}),
  });
}

function medium(id: string): { raw: Json; where: string } {
  const where = `glasses.json ${id}`;
  const raw = list(data.other_media, "glasses.json").map((each) => record(each, where));
  const found = raw.find((each) => each["id"] === id);
  if (found === undefined) throw new Error(`reference data, ${where} is missing`);
  return { raw: found, where };
}

/** Fused silica (Malitson 1965); relative to air, as catalogues count. */
export function fusedSilica(): Sellmeier & { readonly source: string; readonly origin: Origin } {
  return solid("fused-silica");
}

/** Sapphire, ordinary ray (Malitson & Dodge 1972); relative to air. */
export function sapphire(): Sellmeier & { readonly source: string; readonly origin: Origin } {
  return solid("sapphire");
}

function solid(id: string): Sellmeier & { readonly source: string; readonly origin: Origin } {
  const { raw, where } = medium(id);
  return {
    strengths: finites(raw["B"], where),
    resonances: finites(raw["l_um"], where).map((l) => l * l * MICROMETRE2),
    ...range(raw, where),
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
}

/** A clear liquid at 20 °C by its published formula, which gives the absolute index. */
export interface LiquidSellmeier extends Sellmeier {
  /** change of the index with temperature near 20 °C, 1/K */
  readonly slope: number;
  readonly source: string;
  readonly origin: Origin;
}

function liquidSellmeier(id: string): LiquidSellmeier {
  const { raw, where } = medium(id);
  return {
    strengths: finites(raw["A"], where),
    resonances: finites(raw["C_um2"], where).map((c) => c * MICROMETRE2),
    ...range(raw, where),
    slope: finite(record(raw["slope_per_K"], where)["value"], where),
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
}

/** Water at 20 °C (Daimon & Masumura 2007). */
export const waterSellmeier = (): LiquidSellmeier => liquidSellmeier("water-20C");

/** Ethanol at 20 °C (Kedenburg et al. 2012). */
export const ethanolSellmeier = (): LiquidSellmeier => liquidSellmeier("ethanol-20C");

/** A table of n and k: "water-nk-25C" (Hale & Querry 1973) or "water-nk-segelstein-sample". */
export function complexIndexTable(id: "water-nk-25C" | "water-nk-segelstein-sample"): ComplexIndexTable {
  const { raw, where } = medium(id);
  const rows = list(raw["data"], where).map((row) => finites(row, where));
  return {
    id,
    wavelengths: rows.map((row) => toCoherent(row[0], "um")),
    n: rows.map((row) => row[1]),
    k: rows.map((row) => row[2]),
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
}

/** Parameters of the Ciddor 1996 equations by their names in the source; k0…k3 with σ in µm⁻¹, T in K, t in °C, p in Pa. */
export interface CiddorParameters {
  readonly named: Readonly<Record<string, number>>;
  /** relative change of the refractivity per ppm of CO₂ away from `co2Reference` */
  readonly co2Slope: number;
  /** ppm */
  readonly co2Reference: number;
  /** molar mass of dry air: 1e-3·[mass + slope·(CO₂ − reference)] kg/mol, CO₂ in ppm */
  readonly molarMass: number;
  readonly molarMassSlope: number;
  readonly molarMassReference: number;
  readonly source: string;
}

export function ciddorParameters(): CiddorParameters {
  const full = medium("air-ciddor-full");
  const dispersion = medium("air-ciddor-dispersion");
  const parameters = record(full.raw["parameters"], full.where);
  const all = { ...parameters, ...record(dispersion.raw["parameters"], dispersion.where) };
  const named = Object.entries(all).filter((pair): pair is [string, number] => typeof pair[1] === "number");
  const co2 = /^1 \+ ([\d.e-]+) \(x_c - (\d+)\)/.exec(text(parameters["CO2"], full.where));
  const mass = /^1e-3 \[([\d.]+) \+ ([\d.e-]+) \(x_c - (\d+)\)\]/.exec(text(parameters["M_a"], full.where));
  if (co2 === null || mass === null)
    throw new Error(`reference data, ${full.where}: CO2 or M_a is not of the known form`);
  return {
    named: Object.fromEntries(named),
    co2Slope: Number(co2[1]),
    co2Reference: Number(co2[2]),
    molarMass: Number(mass[1]),
    molarMassSlope: Number(mass[2]),
    molarMassReference: Number(mass[3]),
    source: text(full.raw["source"], full.where),
  };
}

/** Reads "n-1 = 6.4328e-5 + 2.94981e-2/(146 - s^2) + …", s in µm⁻¹, with an optional factor such as "1e8 (n_s - 1)". */
function dispersionForm(
  form: string,
  where: string,
): Pick<GasDispersion, "constant" | "strengths" | "resonances"> {
  const [left, right] = form.split(";")[0].split("=");
  const scale = 1 / Number(/^\s*(1e\d+)/.exec(left)?.[1] ?? 1);
  const poles = [...right.matchAll(/([\d.]+(?:e[+-]?\d+)?)\/\(([\d.]+) - s\^2\)/g)];
  if (poles.length === 0) throw new Error(`reference data, ${where}: the formula "${form}" has no pole`);
  const constant = /^\s*([\d.]+(?:e[+-]?\d+)?)\s*\+/.exec(right);
  return {
    constant: constant === null ? 0 : Number(constant[1]) * scale,
    strengths: poles.map((pole) => (Number(pole[1]) * scale) / MICROMETRE2),
    resonances: poles.map((pole) => Number(pole[2]) / MICROMETRE2),
  };
}

const STANDARD_PRESSURE = 101325;

function gasDispersion(id: string, temperature: number): GasDispersion {
  const { raw, where } = medium(id);
  const stated = raw["validity"] === undefined ? undefined : range(raw, where);
  return {
    id,
    ...dispersionForm(text(raw["form"], where), where),
    wavelengthMin: stated?.wavelengthMin,
    wavelengthMax: stated?.wavelengthMax,
    temperature,
    pressure: STANDARD_PRESSURE,
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
}

const GAS_IDS: Readonly<Record<string, readonly [id: string, temperature: number]>> = {
  Ar: ["argon-15C", 288.15],
  N2: ["nitrogen-0C", 273.15],
  He: ["helium-0C", 273.15],
  Ne: ["neon-0C", 273.15],
};

/** Gases with a stored dispersion formula. */
export const DISPERSION_GASES: readonly string[] = Object.keys(GAS_IDS);

/** Dispersion of a buffer gas at 101325 Pa; undefined where none is stored. */
export function gasDispersionOf(gas: string): GasDispersion | undefined {
  const entry = Object.hasOwn(GAS_IDS, gas) ? GAS_IDS[gas] : undefined;
  return entry === undefined ? undefined : gasDispersion(entry[0], entry[1]);
}

/** Standard air, 15 °C, 101325 Pa: "edlen-1953" is what the lines table converts with. */
export function standardAir(edition: "edlen-1953" | "edlen-1966"): GasDispersion {
  return gasDispersion(`air-${edition}`, 288.15);
}
