import type { SpectralMap } from "./api.ts";

/** The same map with everything moved along the width by `shift`, m on the sensor, positive to the right. */
export function movedMap(map: SpectralMap, shift: number): SpectralMap {
  return {
    ...map,
    position: (wavelength) => map.position(wavelength) + shift,
    positions(wavelengths, out) {
      map.positions(wavelengths, out);
      for (let i = 0; i < wavelengths.length; i++) out[i] += shift;
    },
    wavelengthAt: (position) => map.wavelengthAt(position - shift),
    reach: { ...map.reach, left: map.reach.left + shift, right: map.reach.right + shift },
  };
}
