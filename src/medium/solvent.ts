/** Clear liquids that dissolve a dye: their index near room temperature. */
import { ethanolSellmeier, type LiquidSellmeier, waterSellmeier } from "../reference/index.ts";
import { sellmeierIndex } from "./glass.ts";
import { checkMediumRange } from "./medium.ts";

/** Liquids with a published index. */
export type SolventName = "water" | "ethanol";

export interface SolventIndex {
  readonly name: string;
  /** vacuum wavelengths for which it answers, m */
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
  readonly remarks: readonly string[];
  /** absolute index at a vacuum wavelength in m; refuses wavelengths out of range */
  readonly index: (wavelength: number) => number;
}

const FORMULA: Readonly<Record<SolventName, () => LiquidSellmeier>> = {
  water: waterSellmeier,
  ethanol: ethanolSellmeier,
};

/** K: both formulae hold at 20 °C */
const AT = 293.15;

/**
 * Absolute index of a solvent: the published formula at 20 °C (water: Daimon & Masumura 2007; ethanol: Kedenburg et al.
 * 2012, below 500 nm extrapolated), moved by the slope dn/dT, alike at every wavelength; or one number for all.
 * @param temperature K; without effect on a number
 */
export function solventIndex(solvent: SolventName | number, temperature: number): SolventIndex {
  if (typeof solvent === "number") {
    return {
      name: "a solvent of one index",
      wavelengthMin: Number.MIN_VALUE,
      wavelengthMax: Number.POSITIVE_INFINITY,
      remarks: ["the solvent's own dispersion is left out"],
      index: () => solvent,
    };
  }
  const formula = FORMULA[solvent]();
  const shift = formula.slope * (temperature - AT);
  const about = {
    name: solvent,
    wavelengthMin: formula.wavelengthMin,
    wavelengthMax: formula.wavelengthMax,
    remarks: [],
  };
  return {
    ...about,
    index(wavelength) {
      checkMediumRange(about, Float64Array.of(wavelength));
      return sellmeierIndex(formula, wavelength) + shift;
    },
  };
}
