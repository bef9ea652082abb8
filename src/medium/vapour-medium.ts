/** A metal vapour, with its buffer gas, behind the interface that all media share. */
import type { VapourState } from "./api.ts";
import { indexTable } from "./index-table.ts";
import { checkMediumRange, type Medium } from "./medium.ts";
import { vapourWarnings } from "./warnings.ts";

/** Vacuum wavelengths, m, for which the buffer gas's own index is stored; the vapour alone has no limit of form. */
const WITH_GAS = { wavelengthMin: 200e-9, wavelengthMax: 4e-6 };
const ALONE = { wavelengthMin: 1e-9, wavelengthMax: 1 };

/** See `indexTable` for physics, limits and refusals. */
export function vapourMedium(state: VapourState): Medium {
  const about = {
    name: `${state.element} vapour`,
    ...(state.gas === undefined ? ALONE : WITH_GAS),
    remarks: vapourWarnings(state).map((warning) => warning.sentence),
  };
  return {
    ...about,
    indexAt(wavelengths) {
      checkMediumRange(about, wavelengths);
      const { wavelength, refractivity, absorption, phaseVelocity, groupIndex } = indexTable({
        ...state,
        wavelengths,
      });
      return { wavelength, refractivity, absorption, phaseVelocity, groupIndex };
    },
  };
}
