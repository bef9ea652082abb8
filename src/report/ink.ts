import { screenValue, spectralHue } from "../picture/index.ts";

/** Colour in which light of a vacuum wavelength is drawn, as text for SVG. */
export function inkOf(wavelength: number): string {
  const [red, green, blue] = spectralHue(wavelength).map((part) => Math.round(255 * screenValue(part)));
  return `rgb(${red},${green},${blue})`;
}
