import { screenValue, spectralHue } from "../../picture/index.ts";

/** Screen colours of vacuum wavelengths, red green blue 0…255, three per wavelength. */
export function colourTable(wavelengths: Float64Array): Uint8Array {
  const table = new Uint8Array(3 * wavelengths.length);
  for (let i = 0; i < wavelengths.length; i++) {
    const hue = spectralHue(wavelengths[i]);
    for (let c = 0; c < 3; c++) table[3 * i + c] = Math.round(255 * screenValue(hue[c]));
  }
  return table;
}
