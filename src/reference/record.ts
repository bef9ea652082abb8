/**
 * Careful reading of the stored data files: a broken entry throws an ordinary Error that names it, so that no half-read
 * number reaches the physics. Numbers leave this room in SI-coherent units and keep their source beside them.
 */
import { fromCoherent, toCoherent } from "../quantity/index.ts";

/** "looked-up": seen in a published copy; "memory": recalled, not seen; "computed": evaluated from the figures named. */
export type Origin = "looked-up" | "memory" | "computed";

/** A number that knows where it comes from. */
export interface SourcedValue {
  /** SI-coherent */
  readonly value: number;
  /** standard uncertainty in the unit of `value`; undefined where none is published */
  readonly uncertainty: number | undefined;
  /** UCUM code as stored, e.g. "nm": what a person wants to see */
  readonly statedUnit: string;
  /** number as stored, in `statedUnit` */
  readonly stated: number;
  readonly source: string;
  readonly origin: Origin;
  readonly note: string | undefined;
}

export type Json = Readonly<Record<string, unknown>>;

const fault = (where: string, what: string): Error => new Error(`reference data, ${where}: ${what}`);

export function record(value: unknown, where: string): Json {
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw fault(where, "no record");
  return value as Json;
}

export function list(value: unknown, where: string): readonly unknown[] {
  if (!Array.isArray(value)) throw fault(where, "no list");
  return value;
}

export function finite(value: unknown, where: string): number {
  if (typeof value !== "number" || !Number.isFinite(value))
    throw fault(where, `${String(value)} is no number`);
  return value;
}

export function finites(value: unknown, where: string): readonly number[] {
  return list(value, where).map((x) => finite(x, where));
}

export function text(value: unknown, where: string): string {
  if (typeof value !== "string" || value === "") throw fault(where, "a text is missing");
  return value;
}

export function optionalText(value: unknown): string | undefined {
  return typeof value === "string" && value !== "" ? value : undefined;
}

export function originOf(value: unknown, where: string): Origin {
  if (value === "looked-up" || value === "memory" || value === "computed") return value;
  throw fault(where, `"${String(value)}" is no origin`);
}

/** "1/2", "3/2" or a number → the number. */
export function halfInteger(value: unknown, where: string): number {
  if (typeof value === "number") return finite(value, where);
  const match = /^(\d+)(?:\/(\d))?$/.exec(text(value, where));
  if (match === null) throw fault(where, `"${String(value)}" is no quantum number`);
  return Number(match[1]) / Number(match[2] ?? 1);
}

/** A published energy in cm⁻¹ is a wavenumber; everything else converts by its unit. */
export function sourced(
  value: unknown,
  where: string,
  given?: { source?: unknown; origin?: unknown },
): SourcedValue {
  const entry = record(value, where);
  const stated = finite(entry["value"], where);
  const statedUnit = text(entry["unit"], where);
  const uncertainty = entry["uncertainty"];
  const convert = (x: number): number => toCoherent(x, statedUnit);
  return {
    value: convert(stated),
    uncertainty: typeof uncertainty === "number" ? convert(uncertainty) : undefined,
    statedUnit,
    stated,
    source: text(entry["source"] ?? given?.source, where),
    origin: originOf(entry["origin"] ?? given?.origin, where),
    note: optionalText(entry["note"]) ?? optionalText(entry["derivation"]),
  };
}

export function optionalSourced(
  value: unknown,
  where: string,
  given?: { source?: unknown; origin?: unknown },
): SourcedValue | undefined {
  if (value === undefined || value === null) return undefined;
  if (record(value, where)["value"] === null) return undefined;
  return sourced(value, where, given);
}

/** A value worked out here from published ones. */
export function computed(
  value: number,
  unit: string,
  source: string,
  rest: { uncertainty?: number | undefined; note?: string; origin?: Origin; statedUnit?: string } = {},
): SourcedValue {
  const statedUnit = rest.statedUnit ?? unit;
  return {
    value,
    uncertainty: rest.uncertainty,
    statedUnit,
    stated: fromCoherent(value, statedUnit),
    source,
    origin: rest.origin ?? "computed",
    note: rest.note,
  };
}

/** Group by key, keeping the order of first appearance. */
export function groupBy<T>(items: readonly T[], key: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(key(item));
    if (group === undefined) groups.set(key(item), [item]);
    else group.push(item);
  }
  return groups;
}
