/** Buffer gases: diffusion of metal atoms in them, Lennard-Jones parameters, viscosity and heat conductivity. */
import data from "../../data/diffusion.json" with { type: "json" };
import type { Json, Origin, SourcedValue } from "./record.ts";
import { list, optionalText, originOf, record, sourced, text } from "./record.ts";

/** D(T, p) = D0 (T/T0)^m (p0/p). */
export interface DiffusionRecord {
  readonly atom: string;
  readonly gas: string;
  /** at the reference, m²/s */
  readonly coefficient: SourcedValue;
  /** K; undefined where the source does not say */
  readonly referenceTemperature: number | undefined;
  /** Pa */
  readonly referencePressure: number;
  readonly origin: Origin;
  readonly confidence: string | undefined;
  readonly caution: string | undefined;
}

export interface LennardJones {
  readonly gas: string;
  /** m */
  readonly sigma: SourcedValue;
  /** ε/k, K */
  readonly wellDepth: SourcedValue;
}

/** One published correlation: formula in words and its parameters, units as the formula says. */
export interface GasCorrelation {
  readonly gas: string;
  readonly correlation: string;
  readonly formula: string;
  readonly parameters: Readonly<Record<string, number>>;
  readonly validity: string | undefined;
  readonly source: string;
  readonly origin: Origin;
}

const at = (what: string, i: number): string => `diffusion.json ${what} ${i}`;

export const DIFFUSION: readonly DiffusionRecord[] = list(data.alkali_diffusion, "diffusion.json").map(
  (each, i) => {
    const where = at("alkali_diffusion", i);
    const raw = record(each, where);
    const temperature = record(raw["T_reference"], where)["value"];
    return {
      atom: text(raw["atom"], where),
      gas: text(raw["gas"], where),
      coefficient: sourced(raw["D0"], where, raw),
      referenceTemperature: typeof temperature === "number" ? temperature : undefined,
      referencePressure: Number(record(raw["p_reference"], where)["value"]),
      origin: originOf(raw["origin"], where),
      confidence: optionalText(raw["confidence"]),
      caution: optionalText(raw["caution"]),
    };
  },
);

/** Stored diffusion figures of an atom in a gas, published copies before recalled ones; empty where none is stored. */
export function diffusionOf(atom: string, gas: string): readonly DiffusionRecord[] {
  const found = DIFFUSION.filter((each) => each.atom === atom && each.gas === gas);
  return [...found].sort((a, b) => Number(a.origin !== "looked-up") - Number(b.origin !== "looked-up"));
}

export const LENNARD_JONES: readonly LennardJones[] = list(data.lennard_jones, "diffusion.json").map(
  (each, i) => {
    const where = at("lennard_jones", i);
    const raw = record(each, where);
    return {
      gas: text(raw["gas"], where),
      sigma: sourced(raw["sigma"], `${where} sigma`),
      wellDepth: sourced(raw["epsilon_over_k"], `${where} epsilon_over_k`),
    };
  },
);

/** Lennard-Jones parameters of a gas; undefined where none are stored. */
export function lennardJones(gas: string): LennardJones | undefined {
  return LENNARD_JONES.find((each) => each.gas === gas);
}

function numbers(value: unknown): Readonly<Record<string, number>> {
  const raw: Json = typeof value === "object" && value !== null ? (value as Json) : {};
  return Object.fromEntries(
    Object.entries(raw).filter((pair): pair is [string, number] => typeof pair[1] === "number"),
  );
}

export const GAS_TRANSPORT: readonly GasCorrelation[] = list(data.gas_transport, "diffusion.json").map(
  (each, i) => {
    const where = at("gas_transport", i);
    const raw = record(each, where);
    return {
      gas: text(raw["gas"], where),
      correlation: text(raw["correlation"], where),
      formula: text(raw["formula"], where),
      parameters: numbers(raw["parameters"]),
      validity: optionalText(raw["validity"]),
      source: text(raw["source"], where),
      origin: originOf(raw["origin"], where),
    };
  },
);

/** Correlations of a gas: "vapour viscosity", "vapour thermal conductivity", "dilute-gas viscosity", … */
export function gasTransport(gas: string): readonly GasCorrelation[] {
  return GAS_TRANSPORT.filter((each) => each.gas === gas);
}

export const DIFFUSION_GAPS: readonly string[] = data.gaps;
