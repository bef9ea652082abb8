/** A dye or coloured glass from a measured absorbance: its index by Kramers–Kronig, with what the table cannot tell said. */
import { formatQuantity, Refusal } from "../quantity/index.ts";
import { SPEED_OF_LIGHT } from "../reference/index.ts";
import { type Extinction, extinctionOf, kramersKronig, outsideBound } from "./kramers-kronig.ts";
import { checkMediumRange, type Medium } from "./medium.ts";
import { completeResponse, refractivitySlope } from "./velocities.ts";

export interface AbsorbanceTable {
  /** vacuum wavelengths, m, strictly ascending, at least 4 */
  readonly wavelengths: Float64Array;
  /** decadic absorbance log10(I₀/I) of the layer, same length; small negative values (noise) count as 0 */
  readonly absorbance: Float64Array;
  /** thickness of the measured layer, m, > 0 */
  readonly pathLength: number;
}

export interface DyeInput extends AbsorbanceTable {
  /** index without the dye: a number, or a medium (water, a glass); default 1 (index of the dye's part alone) */
  readonly host?: number | Medium;
  /** a measured index that fixes the additive constant; without it the constant is 0 and stated so */
  readonly anchor?: { readonly wavelength: number; readonly index: number };
  /**
   * largest absorption coefficient that the dye may have outside the table, 1/m; default the largest inside it, the
   * cautious choice
   */
  readonly outsideAbsorption?: number;
  /** concentration in the medium over that of the measured sample; default 1 */
  readonly dilution?: number;
  readonly name?: string;
}

export interface Dye extends Medium {
  /** added to n to meet the anchor, 1; 0 without an anchor */
  readonly constant: number;
  /**
   * bound of |n − n_true| from absorption outside the table, 1, per wavelength: against the anchor where there is one, else
   * against a dye that absorbs nothing outside
   */
  outsideError(wavelengths: Float64Array): Float64Array;
}

function refuse(field: string, received: string, expected: string): never {
  throw new Refusal({ code: "absorbance-table", field, received, expected });
}

function check({ wavelengths, absorbance, pathLength, dilution = 1 }: DyeInput): void {
  if (wavelengths.length < 4) refuse("wavelengths", `${wavelengths.length} points`, "at least 4 points");
  if (absorbance.length !== wavelengths.length) {
    refuse("absorbance", `${absorbance.length} values`, `${wavelengths.length} values, one per wavelength`);
  }
  wavelengths.forEach((wavelength, i) => {
    const ascending = i === 0 ? wavelength > 0 : wavelength > wavelengths[i - 1];
    if (!ascending || !Number.isFinite(wavelength)) {
      refuse(`wavelengths[${i}]`, String(wavelength), "wavelengths in m, above 0 and ascending");
    }
    if (!Number.isFinite(absorbance[i])) refuse(`absorbance[${i}]`, String(absorbance[i]), "a number");
  });
  if (!(pathLength > 0 && pathLength < Infinity))
    refuse("pathLength", String(pathLength), "a length above 0 m");
  if (!(dilution >= 0 && dilution < Infinity)) refuse("dilution", String(dilution), "a factor of 0 or more");
}

/**
 * The medium that an absorbance table describes: α = ln(10)·A/d, κ = αλ/4π, n = n_host + KK(κ) + constant.
 *
 * The table is filled in by a monotone cubic, absorption outside it taken as none; `outsideError` says what that may cost.
 * A band cut off by the end of the table shows as an error that grows without limit there: the range is therefore kept one
 * interval inside the table at both ends.
 *
 * @throws Refusal a table that is too short, not ascending or not numeric; path length not above 0; anchor outside it
 */
export function dyeMedium(input: DyeInput): Dye {
  check(input);
  const { wavelengths, absorbance, pathLength, dilution = 1, host = 1, anchor } = input;
  const last = wavelengths.length - 1;
  const alphas = absorbance.map((a) => (Math.max(0, a) * Math.LN10 * dilution) / pathLength);
  const extinction = extinctionOf(
    wavelengths,
    alphas.map((alpha, i) => (alpha * wavelengths[i]) / (4 * Math.PI)),
  );
  const outside = input.outsideAbsorption ?? Math.max(...alphas);
  const about = {
    name: input.name ?? "dye",
    wavelengthMin: Math.max(wavelengths[1], hostOf(host)?.wavelengthMin ?? 0),
    wavelengthMax: Math.min(wavelengths[last - 1], hostOf(host)?.wavelengthMax ?? Infinity),
  };
  if (anchor !== undefined) checkAnchor(anchor, about);
  const own = (wavelength: number): number =>
    kramersKronig(extinction, Float64Array.of(frequency(wavelength)))[0];
  const constant =
    anchor === undefined ? 0 : anchor.index - hostIndex(host, anchor.wavelength) - own(anchor.wavelength);
  const remarks = [
    anchor === undefined
      ? "no index was measured: the dye is taken to absorb nothing outside the table, and nothing is added"
      : `index fixed at ${formatQuantity(anchor.wavelength, "m", { as: "nm" })} by adding ${constant.toPrecision(3)}`,
    "absorption outside the table shifts n by no more than the stated error",
  ];
  const complete = { ...about, remarks };
  return {
    ...complete,
    constant,
    indexAt(at) {
      checkMediumRange(complete, at);
      const kappa = interpolate(extinction, at);
      const dye = kramersKronig(extinction, at.map(frequency));
      // A host that absorbs adds its own; its slope enters with its group index.
      const around = hostOf(host)?.indexAt(at);
      const refractivity = dye.map(
        (part, i) => part + constant + (around?.refractivity[i] ?? hostIndex(host, at[i]) - 1),
      );
      const absorption = at.map((l, i) => (4 * Math.PI * kappa[i]) / l + (around?.absorption[i] ?? 0));
      const slope = at.map((l, i) => {
        const ofHost = around === undefined ? 0 : (1 + around.refractivity[i] - around.groupIndex[i]) / l;
        return refractivitySlope(own, l, derivativeStep(wavelengths)) + ofHost;
      });
      return completeResponse(at, refractivity, absorption, slope);
    },
    outsideError(at) {
      checkMediumRange(complete, at);
      const fixed = anchor === undefined ? undefined : frequency(anchor.wavelength);
      return at.map((l) => outsideBound(extinction, outside, frequency(l), fixed));
    },
  };
}

const frequency = (wavelength: number): number => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength;

const hostOf = (host: number | Medium): Medium | undefined => (typeof host === "number" ? undefined : host);

function hostIndex(host: number | Medium, wavelength: number): number {
  return typeof host === "number" ? host : 1 + host.indexAt(Float64Array.of(wavelength)).refractivity[0];
}

function checkAnchor(
  { wavelength, index }: NonNullable<DyeInput["anchor"]>,
  about: Omit<Medium, "indexAt" | "remarks">,
): void {
  if (!(wavelength >= about.wavelengthMin && wavelength <= about.wavelengthMax)) {
    refuse("anchor.wavelength", String(wavelength), "a wavelength inside the table");
  }
  if (!(index > 0 && index < 10)) refuse("anchor.index", String(index), "an index between 0 and 10");
}

/** A third of the mean spacing: within one interval of the table, far above rounding. */
function derivativeStep(wavelengths: Float64Array): number {
  return (wavelengths[wavelengths.length - 1] - wavelengths[0]) / (3 * (wavelengths.length - 1));
}

/** κ at wavelengths, straight between the filled-in points: the very curve that was transformed. */
function interpolate({ omegas, kappas }: Extinction, at: Float64Array): Float64Array {
  return at.map((wavelength) => {
    const omega = frequency(wavelength);
    let low = 0;
    let high = omegas.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (omegas[middle] <= omega) low = middle;
      else high = middle;
    }
    const share = (omega - omegas[low]) / (omegas[high] - omegas[low]);
    return kappas[low] + share * (kappas[high] - kappas[low]);
  });
}
