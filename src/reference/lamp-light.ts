/** Carbon arc, band heads and the emissivity of tungsten, from data/lamp-light.json. */
import data from "../../data/lamp-light.json" with { type: "json" };
import { toCoherent } from "../quantity/index.ts";
import type { Json, SourcedValue } from "./record.ts";
import { finite, list, record, sourced, text } from "./record.ts";

const BANDS: ReadonlyMap<string, Json> = new Map(
  list(data.entries, "lamp-light.json").map((each, i) => {
    const raw = record(each, `lamp-light.json entry ${i}`);
    return [text(raw["id"], `lamp-light.json entry ${i}`), raw];
  }),
);

function band(id: string): Json {
  return record(BANDS.get(id), `lamp-light.json ${id}`);
}

/** Radiance temperature of the carbon arc's positive crater, K. */
export const CARBON_ARC_TEMPERATURE: SourcedValue = sourced(
  band("carbon-arc-crater"),
  "lamp-light.json carbon-arc-crater",
);

/** Band heads, m in air, with their vibrational quantum numbers: CN violet system or C2 Swan system. */
export function bandHeads(
  id: "CN-violet-bands" | "C2-swan-bands",
): readonly { wavelength: number; transition: string }[] {
  const where = `lamp-light.json ${id}`;
  return list(band(id)["value"], where).map((each) => {
    const [nanometres, transition] = list(each, where);
    return { wavelength: toCoherent(finite(nanometres, where), "nm"), transition: text(transition, where) };
  });
}

/** Coefficients of ε = c0 + c1 L + c2 T + c3 L T (L in µm, T in K) on a range of L, for tungsten. */
export interface EmissivityBranch {
  /** m */
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
  readonly coefficients: readonly [number, number, number, number];
}

/** Normal spectral emissivity of tungsten (Pon & Hessler 1984, fit to Larrabee 1959), in three branches. */
export function tungstenEmissivity(): readonly EmissivityBranch[] {
  const where = "lamp-light.json tungsten-emissivity";
  return list(band("tungsten-emissivity")["formula"], where).map((each) => {
    const raw = record(each, where);
    const [from, to] = list(raw["range_um"], where);
    const form = text(raw["eps"], where).replace(/\s+/g, "");
    const match =
      /^([+-]?[\d.e-]+?)([+-][\d.]+(?:e-\d+)?)L([+-][\d.]+(?:e-\d+)?)T([+-][\d.]+(?:e-\d+)?)LT$/.exec(form);
    if (match === null) throw new Error(`reference data, ${where}: "${form}" is not of the known form`);
    return {
      wavelengthMin: toCoherent(finite(from, where), "um"),
      wavelengthMax: toCoherent(finite(to, where), "um"),
      coefficients: [Number(match[1]), Number(match[2]), Number(match[3]), Number(match[4])],
    };
  });
}
