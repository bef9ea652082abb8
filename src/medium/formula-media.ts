/** Transparent media known by a formula: glass, fused silica, air, a buffer gas. */
import { glassByCode } from "../reference/index.ts";
import { type AirState, airRefractivityOf } from "./air.ts";
import { gasRefractivityPerDensity } from "./buffer-gas.ts";
import { FUSED_SILICA, glassIndexOf, glassRange } from "./glass.ts";
import { checkMediumRange, type Medium } from "./medium.ts";
import { completeResponse, refractivitySlope } from "./velocities.ts";

/** Step of the derivative relative to the wavelength: all these formulae are smooth on the scale of 1/100. */
const STEP = 5e-4;

/** m; beyond, air and gas formulae are refused. The range is kept three steps inside, for the derivative. */
const GAS_RANGE = [200e-9 * (1 + 4 * STEP), 4e-6 * (1 - 4 * STEP)] as const;

function transparent(about: Omit<Medium, "indexAt">, refractivityAt: (wavelength: number) => number): Medium {
  return {
    ...about,
    indexAt(wavelengths) {
      checkMediumRange(about, wavelengths);
      const slope = wavelengths.map((wavelength) =>
        refractivitySlope(refractivityAt, wavelength, STEP * wavelength),
      );
      const none = new Float64Array(wavelengths.length);
      return completeResponse(wavelengths, wavelengths.map(refractivityAt), none, slope);
    },
  };
}

/**
 * Optical glass by its six-digit code, or "fused-silica": absolute index at 20 °C. The range is the catalogue's, narrowed
 * by 0.2 % at both ends for the derivative of the group index.
 */
export function glassMedium(code: string): Medium {
  const { wavelengthMin, wavelengthMax } = glassRange(code);
  const index = glassIndexOf(code);
  const name = code === FUSED_SILICA ? "fused silica" : `glass ${code}`;
  const kind =
    code === FUSED_SILICA
      ? []
      : [`a ${glassByCode(code).kind}; melts differ from the catalogue by up to 5e-4`];
  const remarks = [...kind, "taken as perfectly clear: its own absorption is left out"];
  const about = {
    name,
    wavelengthMin: wavelengthMin * (1 + 4 * STEP),
    wavelengthMax: wavelengthMax * (1 - 4 * STEP),
    remarks,
  };
  return transparent(about, (wavelength) => index(wavelength) - 1);
}

/** Air after Ciddor 1996; see `airRefractivity` for state and accuracy. */
export function airMedium(state: AirState): Medium {
  const [wavelengthMin, wavelengthMax] = GAS_RANGE;
  const remarks = ["its absorption bands are left out"];
  return transparent({ name: "air", wavelengthMin, wavelengthMax, remarks }, airRefractivityOf(state));
}

/** Buffer gas of a number density, 1/m³; see `gasRefractivityPerDensity`. */
export function gasMedium(species: string, density: number): Medium {
  const [wavelengthMin, wavelengthMax] = GAS_RANGE;
  gasRefractivityPerDensity(species, wavelengthMax);
  const about = { name: species, wavelengthMin, wavelengthMax, remarks: [] };
  return transparent(about, (wavelength) => density * gasRefractivityPerDensity(species, wavelength));
}
