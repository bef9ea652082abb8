/** What the figures say, in words and numbers, for those who do not see them. */
import type { View } from "../state/bench.ts";
import type { Sight } from "../worker/protocol.ts";
import { bend, nanometres, quantity, significant, spoken } from "./number.ts";

export function pictureWords(sight: Sight, view: View): string {
  const { curve, lines, setup } = sight;
  const wavelengths = view.wavelengths === "air" ? curve.wavelengthAir : curve.wavelength;
  const n = wavelengths.length;
  const range = `from ${nanometres(wavelengths[0] ?? 0)} at the left to ${nanometres(wavelengths[n - 1] ?? 0)} at the right, ${view.wavelengths}`;
  if (view.show === "cold")
    return spoken(`The predicted picture of the cold tube: a straight level line ${range}.`);
  const each = lines.map((line) =>
    line.halfGap === null || line.halfGap === 0
      ? `the line at ${nanometres(line.wavelength)} vacuum leaves more than half the light`
      : `the line at ${nanometres(line.wavelength)} vacuum cuts a gap of ${(line.halfGap * 1e9).toFixed(3)} nm half width; at its edge the curve bends ${bend(line.edgeDeflection ?? 0)} on the blue side and as much the other way on the red side`,
  );
  const zero =
    sight.zeroBetweenLines === null
      ? ""
      : ` Between the lines the curve crosses zero at ${nanometres(sight.zeroBetweenLines)} vacuum.`;
  const turned = sight.imageInverted ? " The camera stores the picture upside down." : "";
  const both = view.show === "both" ? " The straight line of the cold tube is shown with it." : "";
  return spoken(
    `The predicted picture of ${setup.title} with the tube hot: a bright curve ${range}. ${capital(each.join("; ")) || "No line of the metal falls in the picture"}.${zero}${both}${turned}`,
  );
}

export function sectionWords(sight: Sight): string {
  const { density, scaleHeight } = sight.onAxis;
  const what = sight.setup.medium.solution === undefined ? "vapour" : "dye";
  const layers = Number.isFinite(scaleHeight)
    ? `densest along the bottom, falling upward over ${quantity(scaleHeight, "m")}`
    : "alike at every height";
  return spoken(
    `Cross-section and long-section of the ${what}'s density: ${quantity(density, "m-3")} on the beam at mid-length, ${layers}; column density ${quantity(sight.columnDensity, "m-2")}, column gradient ${significant(sight.columnGradient)} per cubic metre.`,
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
