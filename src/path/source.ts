/** Light of the lamps: spectral photon radiance against wavelength. */
import { exp, expm1, pow } from "../numerics/elementary/index.ts";
import shapes from "../../data/sources.json" with { type: "json" };
import { airToVacuum } from "../medium/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import { Refusal } from "../quantity/refusal.ts";
import {
  bandHeads,
  BOLTZMANN,
  CARBON_ARC_TEMPERATURE,
  PLANCK,
  SPEED_OF_LIGHT,
  tungstenEmissivity as tungstenFit,
} from "../reference/index.ts";
import type { SourceInput } from "./api.ts";

/** Temperature of a tungsten halogen lamp's filament where none is given, K: common practice, no source. */
const HALOGEN_TEMPERATURE = 3200;

/** Temperature of a lamp of which none is stated, K; undefined for a lamp that has none. */
export function usualTemperature(kind: SourceInput["kind"]): number | undefined {
  if (kind === "halogen") return HALOGEN_TEMPERATURE;
  if (kind === "carbon-arc") return CARBON_ARC_TEMPERATURE.value;
  return kind === "xenon-arc" ? XENON.colour_temperature_K : undefined;
}

/**
 * Spectral radiance of a black body, W/(m²·sr·m): 2hc²/λ⁵ / (exp(hc/λkT) − 1) (Planck).
 * @param wavelength vacuum wavelength, m, > 0
 * @param temperature K, > 0
 */
export function planckRadiance(wavelength: number, temperature: number): number {
  const x = (PLANCK * SPEED_OF_LIGHT) / (wavelength * BOLTZMANN * temperature);
  return (2 * PLANCK * SPEED_OF_LIGHT * SPEED_OF_LIGHT) / pow(wavelength, 5) / expm1(x);
}

/**
 * Normal spectral emissivity of tungsten, 1 (fit of Pon & Hessler 1984 to Larrabee 1959; figures recalled, see data/lamp-light.json). Beyond
 * 0.35–0.80 µm the value at the end is kept; beyond 1600–2800 K the fit runs on: stated limits, not data.
 */
export function tungstenEmissivity(wavelength: number, temperature: number): number {
  const last = TUNGSTEN[TUNGSTEN.length - 1];
  const w = Math.min(last.wavelengthMax, Math.max(TUNGSTEN[0].wavelengthMin, wavelength));
  const [c0, c1, c2, c3] = (TUNGSTEN.find((fit) => w <= fit.wavelengthMax) ?? last).coefficients;
  const l = w * 1e6;
  return c0 + c1 * l + c2 * temperature + c3 * l * temperature;
}

/**
 * Spectral radiance of a lamp, W/(m²·sr·m), at vacuum wavelengths.
 * Halogen: Planck × tungsten emissivity. Carbon arc: Planck at the crater's radiance temperature (data/lamp-light.json), with the cyanogen bands as strong as
 * `bands` says (left out by default). Xenon arc and white diode: typical shapes of data/sources.json. Table: its points by a monotone cubic, nothing outside.
 * "flat": 1 everywhere, a unit of its own.
 * @returns one value per wavelength
 */
export function sourceRadiance(source: SourceInput, wavelengths: Float64Array): Float64Array {
  const radiance = radianceOf(source);
  return wavelengths.map((w) => radiance(w));
}

/**
 * Photons per unit of wavelength, relative: what a picture is drawn with (a camera counts photons).
 * @returns sourceRadiance · λ, for "flat" 1 everywhere
 */
export function sourcePhotons(source: SourceInput, wavelengths: Float64Array): Float64Array {
  const radiance = radianceOf(source);
  return source.kind === "flat"
    ? new Float64Array(wavelengths.length).fill(1)
    : wavelengths.map((w) => radiance(w) * w);
}

function radianceOf(source: SourceInput): (wavelength: number) => number {
  switch (source.kind) {
    case "flat":
      return () => 1;
    case "halogen": {
      const t = source.temperature ?? HALOGEN_TEMPERATURE;
      return (w) => tungstenEmissivity(w, t) * planckRadiance(w, t);
    }
    case "carbon-arc": {
      const t = source.temperature ?? CARBON_ARC_TEMPERATURE.value;
      const bands = source.bands ?? 0;
      return bands === 0
        ? (w) => planckRadiance(w, t)
        : (w) => planckRadiance(w, t) * (1 + bands * cyanogenAt(w));
    }
    case "table":
      return tabulated(source);
    case "xenon-arc": {
      const t = source.temperature ?? XENON.colour_temperature_K;
      return (w) => XENON.emissivity * planckRadiance(w, t) * (1 + peaksAt(XENON.lines, w));
    }
    case "led":
      return (w) => (DIODE["radiance_W_m-2_sr-1"] * peaksAt(DIODE.peaks, w)) / DIODE_AREA;
  }
}

/**
 * Violet bands of cyanogen relative to the strongest head: each rises at its head and falls off to the violet (the system is degraded that way), with the
 * typical heights and lengths of data/sources.json.
 */
function cyanogenAt(wavelength: number): number {
  let sum = 0;
  for (const { head, height, tail } of CYANOGEN) {
    if (wavelength <= head) sum += height * exp((wavelength - head) / tail);
  }
  return sum;
}

function tabulated(source: SourceInput): (wavelength: number) => number {
  const rows = source.spectrum;
  if (rows === undefined || rows.length < 2) {
    throw new Refusal({
      code: "no-spectrum",
      field: "path.source.spectrum",
      received: `${rows?.length ?? 0} rows`,
      expected: "at least two rows of wavelength and power",
    });
  }
  const at = Float64Array.from(rows, (row) => row[0]);
  const power = Float64Array.from(rows, (row) => row[1]);
  const curve = new MonotoneCubic(at, power);
  // Area under the curve, exact for its cubics (Simpson), so that the stated radiance is the sum over the table.
  let area = 0;
  for (let i = 0; i + 1 < at.length; i++) {
    const middle = curve.value((at[i] + at[i + 1]) / 2);
    area += ((power[i] + 4 * middle + power[i + 1]) / 6) * (at[i + 1] - at[i]);
  }
  const scale = area > 0 ? (source.radiance ?? 1) / area : 0;
  return (w) => (w < at[0] || w > at[at.length - 1] ? 0 : scale * Math.max(0, curve.value(w)));
}

interface Peak {
  readonly centre_nm: number;
  readonly fwhm_nm: number;
  readonly height: number;
}

function peaksAt(peaks: readonly Peak[], wavelength: number): number {
  let sum = 0;
  for (const p of peaks) {
    const u = (wavelength * 1e9 - p.centre_nm) / p.fwhm_nm;
    sum += p.height * exp(-4 * Math.LN2 * u * u);
  }
  return sum;
}

function entryOf<T extends { readonly id: string }>(entries: readonly T[], id: string): T {
  const found = entries.find((entry) => entry.id === id);
  if (found === undefined) throw new Error(`reference data: ${id} is missing`);
  return found;
}

const TUNGSTEN = tungstenFit();
const XENON = entryOf(shapes.entries, "xenon-arc") as {
  lines: readonly Peak[];
  emissivity: number;
  colour_temperature_K: number;
};
const DIODE = entryOf(shapes.entries, "led-white") as {
  peaks: readonly Peak[];
  "radiance_W_m-2_sr-1": number;
};
/** Area under the diode's relative spectrum, m: Gaussians of height h and full width w have h·w·√(π/(4 ln 2)). */
const DIODE_AREA = DIODE.peaks.reduce(
  (sum, p) => sum + p.height * p.fwhm_nm * 1e-9 * Math.sqrt(Math.PI / (4 * Math.LN2)),
  0,
);
const BANDS = entryOf(shapes.entries, "cyanogen-violet") as {
  readonly sequences: readonly { readonly change: number; readonly height: number }[];
  readonly tail_nm: number;
  readonly next_head: number;
};
/** Heads in vacuum with height and length of their tails, m: the first of each sequence has its full height, later ones a share of the one before. */
const CYANOGEN = bandHeads("CN-violet-bands").map(({ wavelength, transition }) => {
  const [upper, lower] = transition.split("-").map(Number);
  const sequence = BANDS.sequences.find((each) => each.change === lower - upper);
  const place = Math.min(upper, lower);
  return {
    head: airToVacuum(wavelength),
    height: (sequence?.height ?? 0) * pow(BANDS.next_head, place),
    tail: BANDS.tail_nm * 1e-9,
  };
});
