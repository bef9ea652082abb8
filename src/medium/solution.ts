/** A dye in a solvent: what light meets in a hollow prism or a cuvette. */
import { hypot, pow } from "../numerics/elementary/index.ts";
import { AVOGADRO, SPEED_OF_LIGHT } from "../reference/index.ts";
import { Refusal } from "../quantity/index.ts";
import { dyeMedium } from "./dye.ts";
import { oscillatorMedium } from "./oscillators.ts";
import { type SolventName, solventIndex } from "./solvent.ts";

/** How the dye's own part is known. */
export type DyeData =
  | {
      readonly kind: "absorbance";
      /** [vacuum wavelength m, decadic absorbance], ascending, at least 4 */
      readonly rows: readonly (readonly number[])[];
      /** thickness of the measured layer, m */
      readonly pathLength: number;
      /** concentration of the measured sample, mol/m³ */
      readonly concentration: number;
    }
  | {
      readonly kind: "oscillators";
      /** [vacuum wavelength m, strength f of one molecule, full width at half maximum over the frequency] */
      readonly rows: readonly (readonly number[])[];
    };

export interface DyeSolution {
  readonly solvent: SolventName | number;
  /** K */
  readonly temperature: number;
  /** of the dye, mol/m³ */
  readonly concentration: number;
  readonly dye: DyeData;
}

/** Index and absorption over wavelengths; arrays of one length. */
export interface SolutionResponse {
  /** absolute index of the solution, 1 */
  readonly index: Float64Array;
  /** absolute index of the solvent alone, 1 */
  readonly solvent: Float64Array;
  /** absorption coefficient, 1/m */
  readonly absorption: Float64Array;
  /** bound of the index's error from absorption outside the table, 1; 0 for oscillators */
  readonly outsideError: Float64Array;
}

export interface Solution {
  /** dye molecules in a volume, m⁻³ */
  readonly density: number;
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
  readonly remarks: readonly string[];
  /** refuses wavelengths outside the range */
  readonly at: (wavelengths: Float64Array) => SolutionResponse;
}

/**
 * The solution as a medium. From a table of absorbance: α in proportion to the concentration (Lambert–Beer), n by
 * Kramers–Kronig, nothing absorbed outside the table (`outsideError` bounds what that costs). From oscillators:
 * n² = n_solvent² + χ with the χ of `oscillatorMedium`. No aggregates, no shift of the band by the solvent.
 * @throws Refusal for a table or oscillators that are none
 */
export function solutionMedium({ solvent, temperature, concentration, dye }: DyeSolution): Solution {
  const clear = solventIndex(solvent, temperature);
  const density = concentration * AVOGADRO;
  const own = dye.kind === "absorbance" ? ofTable(dye, concentration) : ofOscillators(dye.rows, density);
  const wavelengthMin = Math.max(clear.wavelengthMin, own.wavelengthMin);
  const wavelengthMax = Math.min(clear.wavelengthMax, own.wavelengthMax);
  return {
    density,
    wavelengthMin,
    wavelengthMax,
    remarks: [...clear.remarks, ...own.remarks],
    at(wavelengths) {
      for (const each of wavelengths)
        if (!(each >= wavelengthMin && each <= wavelengthMax))
          throw outside(each, wavelengthMin, wavelengthMax);
      return own.on(wavelengths, wavelengths.map(clear.index));
    },
  };
}

interface DyePart {
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
  readonly remarks: readonly string[];
  on(wavelengths: Float64Array, solvent: Float64Array): SolutionResponse;
}

function ofTable(dye: Extract<DyeData, { kind: "absorbance" }>, concentration: number): DyePart {
  const medium = dyeMedium({
    wavelengths: Float64Array.from(dye.rows, (row) => row[0]),
    absorbance: Float64Array.from(dye.rows, (row) => row[1]),
    pathLength: dye.pathLength,
    dilution: concentration / dye.concentration,
  });
  return {
    wavelengthMin: medium.wavelengthMin,
    wavelengthMax: medium.wavelengthMax,
    remarks: medium.remarks,
    on(wavelengths, solvent) {
      const { refractivity, absorption } = medium.indexAt(wavelengths);
      return {
        index: solvent.map((n, i) => n + refractivity[i]),
        solvent,
        absorption,
        outsideError: medium.outsideError(wavelengths),
      };
    },
  };
}

function ofOscillators(rows: readonly (readonly number[])[], density: number): DyePart {
  const medium = oscillatorMedium({
    density,
    oscillators: rows.map(([wavelength, strength, share]) => ({
      wavelength,
      strength,
      width: (share * 2 * Math.PI * SPEED_OF_LIGHT) / wavelength,
    })),
  });
  return {
    wavelengthMin: medium.wavelengthMin,
    wavelengthMax: medium.wavelengthMax,
    remarks: medium.remarks,
    on(wavelengths, solvent) {
      const { refractivity, absorption } = medium.indexAt(wavelengths);
      const index = new Float64Array(wavelengths.length);
      const alpha = new Float64Array(wavelengths.length);
      for (let i = 0; i < wavelengths.length; i++) {
        const perKappa = wavelengths[i] / (4 * Math.PI);
        const n = 1 + refractivity[i];
        const k = absorption[i] * perKappa;
        // χ of the oscillators, added to the solvent's ε; then the square root with Im ≥ 0.
        const re = pow(solvent[i], 2) + n * n - k * k - 1;
        const im = 2 * n * k;
        const size = hypot(re, im);
        index[i] = Math.sqrt((size + re) / 2);
        alpha[i] = im / (2 * index[i]) / perKappa;
      }
      return { index, solvent, absorption: alpha, outsideError: new Float64Array(wavelengths.length) };
    },
  };
}

function outside(wavelength: number, least: number, most: number): Refusal {
  const nm = (metres: number): string => `${(metres * 1e9).toFixed(1)} nm`;
  return new Refusal({
    code: "dye-out-of-range",
    field: "medium.absorbance",
    received: `nothing known at ${nm(wavelength)}`,
    expected: `a table of the dye, and a solvent, that reach over all of the picture (now ${nm(least)} to ${nm(most)})`,
  });
}
