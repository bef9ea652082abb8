/** Signs of a picture that could not be fitted: no gap in it, or a lamp whose lines are not the named ones. */
import { spectralMap } from "../path/index.ts";
import type { Refusal } from "../quantity/refusal.ts";
import type { ReadingInput } from "./api.ts";
import { SILENT, type Signs } from "./diagnose-good-day.ts";
import { lampOr, linesInView, scaleOfSetup } from "./first-look.ts";
import { lampScale, polynomial } from "./wavelength-scale.ts";

/** The refusals that say something about the bench. */
const TELLING: ReadonlySet<string> = new Set([
  "no-gap",
  "no-line-in-view",
  "lamp-lines-unknown",
  "no-lamp-lines",
]);

/** @throws the refusal itself where it is about the files and not about the bench */
export function signsOfRefusal(refusal: Refusal, input: ReadingInput): Signs {
  if (!TELLING.has(refusal.record.code)) throw refusal;
  if (refusal.record.code !== "no-gap") return { ...SILENT, lampUnknown: true };
  const inView = linesByLamp(input);
  if (inView === null) return { ...SILENT, noGap: true };
  return inView ? { ...SILENT, noGap: true, linesSure: true } : { ...SILENT, lampUnknown: true };
}

/** Does the lamp frame put one of the element's lines on the sensor? Null without a lamp frame. */
function linesByLamp(input: ReadingInput): boolean | null {
  const { setup, hot, lampLines } = input;
  if (input.lamp === undefined || lampLines === undefined) return null;
  const frame = lampOr(
    input,
    input.lamp,
    input.lamp.gamma ?? (input.lamp.depth === hot.depth ? setup.camera.gamma : 1),
  );
  const map = spectralMap(setup.path);
  const centre = map.wavelengthAt(0);
  const wavelength = scaleOfSetup(map, setup.camera.pixel, [centre], [0]);
  const scale = lampScale(frame, lampLines, {
    wavelength,
    dispersion: wavelength(0.5) - wavelength(-0.5),
    shift: 0.3 * hot.columns,
    stretch: 0.25,
  });
  if (scale === null) return false;
  const ends = [-0.5, 0.5].map((end) => polynomial(scale.coefficients, (end * hot.columns) / 1000));
  return linesInView(setup, map, hot.columns).some(
    (line) => line.wavelength > Math.min(...ends) && line.wavelength < Math.max(...ends),
  );
}
