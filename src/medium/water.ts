/** Water: a formula where it is clear, a table of n and k beyond, and the index that its absorption alone foretells. */
import { exp, log, pow } from "../numerics/elementary/index.ts";
import { complexIndexTable, SPEED_OF_LIGHT, waterSellmeier } from "../reference/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import { sellmeierIndex } from "./glass.ts";
import { type Extinction, extinctionOf, kramersKronig } from "./kramers-kronig.ts";
import { checkMediumRange, type Medium } from "./medium.ts";
import { completeResponse, refractivitySlope } from "./velocities.ts";

const FORMULA = waterSellmeier();

/** Absolute index of water at 20 °C (Daimon & Masumura 2007), 182 nm to 1129 nm; vacuum wavelength, m. */
export function waterIndex(wavelength: number): number {
  checkMediumRange(FORMULA_RANGE, Float64Array.of(wavelength));
  return sellmeierIndex(FORMULA, wavelength);
}

const FORMULA_RANGE = {
  name: "water at 20 degC",
  wavelengthMin: FORMULA.wavelengthMin,
  wavelengthMax: FORMULA.wavelengthMax,
  remarks: [],
};

interface WaterTable {
  readonly wavelengths: Float64Array;
  readonly n: Float64Array;
  readonly k: Float64Array;
  readonly source: string;
}

function table(): WaterTable {
  const { wavelengths, n, k, source } = complexIndexTable("water-nk-25C");
  return {
    wavelengths: Float64Array.from(wavelengths),
    n: Float64Array.from(n),
    k: Float64Array.from(k),
    source,
  };
}

/** Im n of the table between its points: ln k over ln λ. */
function extinctionCurve({ wavelengths, k }: WaterTable): (wavelength: number) => number {
  const curve = new MonotoneCubic(wavelengths.map(log), k.map(log));
  return (wavelength) => exp(curve.value(log(wavelength)));
}

const absorptionOf = (kappa: number, wavelength: number): number => (4 * Math.PI * kappa) / wavelength;

const TABLE_STEP = 2e-3;

/**
 * Water where one sees through it: index by the formula at 20 °C (182 nm to 1129 nm), absorption from the table at 25 °C
 * (from 200 nm). Narrowed by 0.2 % at the long end for the derivative.
 */
export function waterMedium(): Medium {
  const measured = table();
  const kappa = extinctionCurve(measured);
  const about = {
    ...FORMULA_RANGE,
    wavelengthMin: measured.wavelengths[0],
    wavelengthMax: FORMULA.wavelengthMax * (1 - 4 * 5e-4),
    remarks: ["index of distilled water at 20 degC; absorption as tabulated at 25 degC"],
  };
  const refractivity = (wavelength: number): number => sellmeierIndex(FORMULA, wavelength) - 1;
  return {
    ...about,
    indexAt(wavelengths) {
      checkMediumRange(about, wavelengths);
      const absorption = wavelengths.map((wavelength) => absorptionOf(kappa(wavelength), wavelength));
      const slope = wavelengths.map((wavelength) =>
        refractivitySlope(refractivity, wavelength, 5e-4 * wavelength),
      );
      return completeResponse(wavelengths, wavelengths.map(refractivity), absorption, slope);
    },
  };
}

/**
 * Water from 0.2 µm to 200 µm as tabulated at 25 °C (Hale & Querry 1973), monotone cubics between the points. The group
 * index carries the roundness of a table printed to three decimals.
 */
export function waterTableMedium(): Medium {
  const measured = table();
  const kappa = extinctionCurve(measured);
  const index = new MonotoneCubic(measured.wavelengths.map(log), measured.n);
  const refractivity = (wavelength: number): number => index.value(log(wavelength)) - 1;
  const last = measured.wavelengths.length - 1;
  const about = {
    name: "water at 25 degC, tabulated",
    wavelengthMin: measured.wavelengths[0],
    wavelengthMax: measured.wavelengths[last],
    remarks: ["the table prints n to three decimals: its group index is rough"],
  };
  return {
    ...about,
    indexAt(wavelengths) {
      checkMediumRange(about, wavelengths);
      const absorption = wavelengths.map((wavelength) => absorptionOf(kappa(wavelength), wavelength));
      const slope = wavelengths.map((wavelength) =>
        refractivitySlope(refractivity, wavelength, TABLE_STEP * wavelength),
      );
      return completeResponse(wavelengths, wavelengths.map(refractivity), absorption, slope);
    },
  };
}

/** What Kramers–Kronig needs besides the tabulated absorption: the ultraviolet that the table does not reach. */
export interface UltravioletPart {
  /** 1 */
  readonly constant: number;
  /** of the pole term strength·λ²/(λ² − λ₀²), 1 */
  readonly strength: number;
  /** λ₀, m */
  readonly wavelength: number;
  /** largest |n − n_table| on the wavelengths of the fit */
  readonly residual: number;
}

export interface WaterDispersion {
  readonly ultraviolet: UltravioletPart;
  /** n from absorption, constant and pole; vacuum wavelengths, m, within the table */
  indexAt(wavelengths: Float64Array): Float64Array;
}

/**
 * The index of water from its absorption: n = 1 + KK(k) + constant + one ultraviolet pole, the three numbers fitted to the
 * tabulated n between `fitFrom` and `fitTo` only (default 0.2 µm to 1.2 µm), so that the infrared is foretold, not fitted.
 * With the default the tabulated n from 0.4 µm to 10 µm is met within 0.005.
 */
export function waterDispersion(fitFrom = 0.2e-6, fitTo = 1.2e-6): WaterDispersion {
  const { wavelengths, n, k } = table();
  const extinction = extinctionOf(wavelengths, k);
  const used = wavelengths.filter((wavelength) => wavelength >= fitFrom && wavelength <= fitTo);
  const wanted = Float64Array.from(n).filter((_, i) => wavelengths[i] >= fitFrom && wavelengths[i] <= fitTo);
  const rest = absorptive(extinction, used).map((part, i) => wanted[i] - 1 - part);
  const ultraviolet = fitPole(used, rest);
  return {
    ultraviolet,
    indexAt(at) {
      const { constant, strength, wavelength } = ultraviolet;
      return absorptive(extinction, at).map(
        (part, i) => 1 + part + constant + strength * pole(at[i], wavelength),
      );
    },
  };
}

function absorptive(extinction: Extinction, wavelengths: Float64Array): Float64Array {
  return kramersKronig(
    extinction,
    wavelengths.map((wavelength) => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength),
  );
}

const pole = (wavelength: number, centre: number): number =>
  pow(wavelength, 2) / (pow(wavelength, 2) - pow(centre, 2));

/** Constant and strength by linear least squares for each λ₀ below the table, λ₀ by golden section. */
function fitPole(wavelengths: Float64Array, rest: Float64Array): UltravioletPart {
  const solve = (centre: number): UltravioletPart & { readonly squares: number } => {
    const x = wavelengths.map((wavelength) => pole(wavelength, centre));
    const mean = (values: Float64Array): number => values.reduce((sum, v) => sum + v, 0) / values.length;
    const xMean = mean(x);
    const yMean = mean(rest);
    let xx = 0;
    let xy = 0;
    x.forEach((v, i) => {
      xx += pow(v - xMean, 2);
      xy += (v - xMean) * (rest[i] - yMean);
    });
    const strength = xy / xx;
    const constant = yMean - strength * xMean;
    const errors = x.map((v, i) => rest[i] - constant - strength * v);
    const squares = errors.reduce((sum, e) => sum + e * e, 0);
    return { constant, strength, wavelength: centre, residual: Math.max(...errors.map(Math.abs)), squares };
  };
  const shortest = Math.min(...wavelengths);
  let low = 0.15 * shortest;
  let high = 0.97 * shortest;
  const golden = (Math.sqrt(5) - 1) / 2;
  while (high - low > 1e-4 * shortest) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (solve(a).squares < solve(b).squares) high = b;
    else low = a;
  }
  const { constant, strength, wavelength, residual } = solve((low + high) / 2);
  return { constant, strength, wavelength, residual };
}
