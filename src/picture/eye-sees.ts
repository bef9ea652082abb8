/** What the eye makes of a bright picture thrown on a screen: colours only where there is light enough for the cones, nothing where there is too little for the rods. */
import sight from "../../data/sight.json" with { type: "json" };
import { log10, pow } from "../numerics/elementary/index.ts";

/** Shares of red, green and blue in the luminance of a screen (IEC 61966-2-1). */
const WEIGHTS = [0.2126, 0.7152, 0.0722] as const;

/**
 * A picture in the eye's colours as eyes adapted to it see it: a pixel of luminance L keeps its colour from `cones_alone` up, loses it evenly with log L, is grey below `cones_begin` and black below
 * `rods_begin` (data/sight.json, common practice). How bright the whole looks is left as drawn: that is what adaptation does.
 * @param rgba picture, changed in place
 * @param brightest luminance of its brightest pixel, cd/m²
 */
export function asTheEyeSees(rgba: Uint8ClampedArray, brightest: number): void {
  const [dark, begin, alone] = [sight.rods_begin, sight.cones_begin, sight.cones_alone].map(
    ({ value }) => value,
  );
  const span = log10(alone / begin);
  let most = 0;
  for (let p = 0; p < rgba.length; p += 4) most = Math.max(most, luminanceOf(rgba, p));
  if (most === 0) return;
  for (let p = 0; p < rgba.length; p += 4) {
    const luminance = (brightest * luminanceOf(rgba, p)) / most;
    const colour = luminance > 0 ? Math.min(1, Math.max(0, log10(luminance / begin) / span)) : 0;
    const grey = luminance < dark ? 0 : Math.max(rgba[p], rgba[p + 1], rgba[p + 2]);
    for (let k = p; k < p + 3; k++) rgba[k] = grey === 0 ? 0 : grey + colour * (rgba[k] - grey);
  }
}

/** Light of a screen's value 0 to 255, 0 to 1 (the inverse of IEC 61966-2-1's curve). */
const LIGHT = Float64Array.from({ length: 256 }, (_, value) => {
  const v = value / 255;
  return v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
});

function luminanceOf(rgba: Uint8ClampedArray, p: number): number {
  return WEIGHTS.reduce((sum, weight, k) => sum + weight * LIGHT[rgba[p + k]], 0);
}
