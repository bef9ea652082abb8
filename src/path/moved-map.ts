import type { SpectralMap } from "./api.ts";

/** The same map with everything along the width first `scale` times as far from the middle, then moved by `shift`, m on the sensor, positive to the right. */
export function movedMap(map: SpectralMap, shift: number, scale = 1): SpectralMap {
  const to = (position: number): number => position * scale + shift;
  return {
    ...map,
    position: (wavelength) => to(map.position(wavelength)),
    positions(wavelengths, out) {
      map.positions(wavelengths, out);
      for (let i = 0; i < wavelengths.length; i++) out[i] = to(out[i]);
    },
    wavelengthAt: (position) => map.wavelengthAt((position - shift) / scale),
    reach: { ...map.reach, left: to(map.reach.left), right: to(map.reach.right) },
  };
}
