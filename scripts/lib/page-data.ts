/**
 * The reference data as the page carries them. The files in data/ say of every figure where it was seen, what other
 * copies print and how far they differ; the page reads none of that, and a first view should be small. What is left
 * out here is only what no room reads for the page or what it reads and never shows: every number that it reckons with
 * stays as stored, and so does every source that a finding or a caution names.
 */
import { readFileSync } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import type { Plugin } from "vite";

const DATA = resolve(import.meta.dirname, "../../data");

/** Said of every file: keys that no room reads. */
const UNREAD = [
  ...["title", "fields", "conventions", "seen_in", "note", "derivation", "gaps", "warnings", "unit_remark"],
  ...["relative_difference_from_theory", "relative_difference_f_first_minus_this", "recommendation"],
  ...[
    "confidence",
    "caution",
    "definition_caution",
    "definition",
    "condition",
    "check_source",
    "check_values",
  ],
];

/**
 * Said of one file: `without`, keys that no room reads for the page, and ids or species of entries that none asks for there;
 * `inEntries`, keys that none reads of the members of `entries`; `shown`, keys of the records whose source the page may
 * show. Without `shown` all sources are kept, with it the others shrink to the file's name.
 */
const FILES: Readonly<
  Record<
    string,
    | {
        readonly without: readonly string[];
        readonly inEntries?: readonly string[];
        readonly shown?: readonly string[];
      }
    | undefined
  >
> = {
  "broadening.json": {
    without: [
      "theory",
      "self_broadening_theory_values",
      "gamma_over_N_FWHM",
      "gamma_over_N_angular_FWHM",
      ...["FWHM_if_half_width", "FWHM_if_half_width_per_torr_450K", "ABO_sigma", "ABO_alpha"],
    ],
    shown: ["foreign_gas"],
  },
  "cie.json": {
    without: [
      "second_source",
      "validity",
      "columns",
      "column_sums_380_780",
      "cie-d65-5nm",
      "planckian-locus",
    ],
    shown: [],
  },
  "constants.json": {
    without: ["name", "codata2018", "codata2022", "recommended", "relative_difference_2022_minus_2018"],
    shown: [],
  },
  "diffusion.json": {
    without: [
      ...["theory", "gas_transport_table", "gas_transport_checks", "validity"],
      ...["raw_rectangular_profile", "raw_gaussian_profile"],
    ],
    shown: ["D0"],
  },
  "glass-absorption.json": { without: ["origin"], shown: [] },
  "glasses.json": {
    without: [
      ...["n_d", "V_d", "n_d_from_coefficients", "V_d_from_coefficients", "n_d_difference", "V_d_difference"],
      ...["computed_indices", "uncertainty", "temperature", "line_source", "n_D", "n_D_computed"],
      ...["water-nk-25C", "water-nk-segelstein-sample", "air-edlen-1966", "air-comparison"],
      ...["check_origin", "outside_range", "n_minus_1_at_589.3nm_1e8"],
    ],
    inEntries: ["form"],
    shown: [],
  },
  "hyperfine.json": {
    without: [
      ...["alternative", "warning", "lifetime", "g_J", "second_source", "mean_mass_u", "Z"],
      ...["mass_second_source", "mass_relative_difference", "abundance_second_source", "uncertainty_origin"],
    ],
    shown: [],
  },
  "lamp-light.json": {
    without: ["sample_values", "sample_columns", "carbon-arc-in-argon", "quantity"],
    shown: [],
  },
  "lamps.json": { without: [], shown: [] },
  "lines.json": {
    without: [
      ...["published_digits", "wavelength_air", "g_lower", "g_upper", "log_gf", "check_A_from_f"],
      ...["accuracy_grade", "relative_difference_f_first_minus_second", "A_from_lifetime", "f_from_lifetime"],
    ],
    // Strengths have their source told where a tolerance is asked for.
    shown: ["f_absorption", "alternative", "lifetime"],
  },
  "sensor.json": { without: ["quantity"], shown: [] },
  "sources.json": { without: ["quantity"], shown: [] },
  "gases.json": {
    without: ["metals_source"],
    shown: [
      ...["pressure_products", "rayleigh_onset", "window_film", "window_time", "crust"],
      ...["knudsen_continuum", "knudsen_free", "fog_possible", "fog_warn", "fog_refuse"],
    ],
  },
  "materials.json": { without: ["second_source", "emissivity_note", "emissivity_source"] },
  "van-der-waals.json": { without: ["ionisation_source", "polarisability_source", "gas_mass_source"] },
  "vapour-pressure.json": {
    without: [
      ...["table", "comparison_with_CRC", "further_published_fits", "form", "B_unit", "uncertainty"],
      ...["branch_jump_at_melting_point"],
    ],
    shown: [],
  },
};

/**
 * A data file as the page carries it.
 * @param name e.g. "lines.json"
 * @param content what the file holds
 */
export function trimmed(name: string, content: unknown): unknown {
  const { without = [], inEntries = [], shown } = FILES[name] ?? {};
  const left = new Set([...UNREAD, ...without]);
  /** `key`: under which the value lies; what lies in a list lies under the list's. */
  const trim = (value: unknown, key: string): unknown => {
    if (Array.isArray(value)) return value.filter(asked).map((each) => trim(each, key));
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(
      Object.entries(value)
        .filter(([inner]) => !left.has(inner) && !(key === "entries" && inEntries.includes(inner)))
        .map(([inner, each]) => {
          const short = inner === "source" && shown !== undefined && !shown.includes(key);
          return [inner, short ? name : trim(each, inner)];
        }),
    );
  };
  const named = (each: object): unknown =>
    "id" in each ? each.id : "species" in each ? each.species : undefined;
  const asked = (each: unknown): boolean =>
    !(typeof each === "object" && each !== null && left.has(String(named(each))));
  return trim(content, "");
}

export function pageData(): Plugin {
  return {
    name: "page-data",
    enforce: "pre",
    load(id) {
      if (dirname(id) !== DATA || !id.endsWith(".json")) return null;
      return JSON.stringify(trimmed(basename(id), JSON.parse(readFileSync(id, "utf8"))));
    },
  };
}
