/** Width and shift that a buffer gas gives a line: published where there is a figure, else an estimate that says so. */
import { pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import type { ForeignGasRecord, Line } from "../reference/index.ts";
import { BOLTZMANN, FOREIGN_GAS, LINES } from "../reference/index.ts";
import { BUFFER_GASES, ionisationEnergy, vanDerWaalsWidth } from "./van-der-waals.ts";

/** Collisional rates of one line in one gas at one temperature. */
export interface GasBroadening {
  /** FWHM per gas density, cyclic, Hz·m³ */
  readonly width: number;
  /** shift per gas density, cyclic, Hz·m³, positive to the blue */
  readonly shift: number;
  /**
   * one of "published" (this line, this gas), "sister-line" (the other line of the pair in the same gas),
   * "estimate" (van der Waals width scaled to the nearest published pair with the same gas)
   */
  readonly basis: "published" | "sister-line" | "estimate";
  /** where the figure comes from, one clause */
  readonly source: string;
  readonly fromMemory: boolean;
}

/** γ/N ∝ T^n where neither the record nor another one with the same gas says otherwise: pure C6 (theory entry). */
const VAN_DER_WAALS_EXPONENT = 0.3;

/** "D1" of "D1; natural isotope mixture"; undefined for any other line. */
function dName(line: Line): string | undefined {
  return /^D[12]/.exec(line.name)?.[0];
}

/** Natural helium is helium-4: figures for either serve, the plain name first. */
function records(gas: string): readonly ForeignGasRecord[] {
  const names = gas === "He" ? ["He", "4He"] : [gas];
  return names.flatMap((name) => FOREIGN_GAS.filter((each) => each.gas === name));
}

function exponentOf(record: ForeignGasRecord, same: readonly ForeignGasRecord[]): number {
  const stated = record.widthExponent ?? same.find((each) => each.widthExponent !== undefined)?.widthExponent;
  return stated?.value ?? VAN_DER_WAALS_EXPONENT;
}

/** Per-density width and shift of a record at its own reference temperature, Hz·m³. */
function atReference(record: ForeignGasRecord): { width: number; shift: number; temperature: number } {
  const temperature = record.referenceTemperature;
  if (temperature === undefined)
    throw new Error(`broadening of ${record.atom} ${record.line}: no temperature`);
  const perPressure = BOLTZMANN * temperature;
  const width = (record.widthPerPressure?.value ?? Number.NaN) * perPressure;
  const shift = (record.shiftPerPressure?.value ?? Number.NaN) * perPressure;
  return {
    width: Number.isNaN(width) ? (record.widthPerDensity?.value ?? 0) : width,
    shift: Number.isNaN(shift) ? (record.shiftPerDensity?.value ?? 0) : shift,
    temperature,
  };
}

function scaled(record: ForeignGasRecord, same: readonly ForeignGasRecord[], temperature: number) {
  const reference = atReference(record);
  const ratio = temperature / reference.temperature;
  const exponent = exponentOf(record, same);
  return {
    width: reference.width * pow(ratio, exponent),
    shift: reference.shift * pow(ratio, record.shiftExponent?.value ?? exponent),
  };
}

/**
 * Rates of a line in a gas at gas temperature T: width(T)/density = width(T0)/density · (T/T0)^n, which per pressure is
 * (T0/T)^(1−n).
 *
 * @throws Refusal for a gas without data ("He", "Ne", "Ar", "Kr", "Xe" and "N2" have some)
 */
export function gasBroadening(line: Line, gas: string, temperature: number): GasBroadening {
  if (!BUFFER_GASES.includes(gas)) {
    throw new Refusal({
      code: "unknown-gas",
      field: "gas",
      received: `"${gas}"`,
      expected: `one of ${BUFFER_GASES.join(", ")}`,
    });
  }
  const same = records(gas);
  const name = dName(line);
  if (name !== undefined) {
    const own = same.filter((each) => each.atom === line.element);
    const exact = own.find((each) => each.line === name);
    const record = exact ?? own[0];
    if (record !== undefined) {
      return {
        ...scaled(record, same, temperature),
        basis: exact === undefined ? "sister-line" : "published",
        source: record.source,
        fromMemory: record.origin !== "looked-up",
      };
    }
  }
  return estimate(line, gas, temperature, same);
}

function estimate(
  line: Line,
  gas: string,
  temperature: number,
  same: readonly ForeignGasRecord[],
): GasBroadening {
  const away = (each: ForeignGasRecord) =>
    Math.abs(ionisationEnergy(each.atom) - ionisationEnergy(line.element));
  const nearest = [...same].sort((a, b) => away(a) - away(b))[0];
  const reference = atReference(nearest);
  const referenceLine = LINES.find((each) => each.element === nearest.atom && dName(each) === nearest.line);
  if (referenceLine === undefined)
    throw new Error(`broadening of ${nearest.atom} ${nearest.line}: no such line`);
  const factor =
    reference.width / (vanDerWaalsWidth(referenceLine, gas, reference.temperature) / (2 * Math.PI));
  const width = (factor * vanDerWaalsWidth(line, gas, temperature)) / (2 * Math.PI);
  return {
    width,
    shift: (width * reference.shift) / reference.width,
    basis: "estimate",
    source: `van der Waals law scaled to ${nearest.atom} ${nearest.line} in ${gas}`,
    fromMemory: true,
  };
}
