/** The numbers that tables, tolerances and wishes speak of: names, units, words. */
import { Refusal } from "../quantity/index.ts";
import type { Outcome } from "./quick.ts";

export interface OutcomeWord {
  readonly name: OutcomeName;
  readonly label: string;
  /** SI-coherent UCUM code */
  readonly unit: string;
  /** unit it is shown in */
  readonly show: string;
  readonly sentence: string;
}

export type OutcomeName = Exclude<
  { [K in keyof Outcome]: Outcome[K] extends number | null ? K : never }[keyof Outcome],
  "reading"
>;

const word = (
  name: OutcomeName,
  label: string,
  unit: string,
  show: string,
  sentence: string,
): OutcomeWord => ({ name, label, unit, show, sentence });

export const OUTCOMES: readonly OutcomeWord[] = [
  word("height", "height", "m", "mm", "How high the curve stands on the sensor at the gap's edge."),
  word("deflection", "edge deflection", "rad", "mrad", "The bend at the gap's edge."),
  word("heightTimes", "height in thicknesses", "1", "1", "Height over the thickness of the drawn line."),
  word("halfGap", "half-gap", "m", "nm", "Distance from the line at which half the light is left."),
  word("gapTimes", "half-gap in blurs", "1", "1", "Half-gap over the blur in wavelength; 1 to 2 is best."),
  word("pairDistance", "pair on the sensor", "m", "mm", "Distance of the first two lines on the sensor."),
  word("pairTimes", "pair in blurs", "1", "1", "Distance of the pair over the blur in wavelength."),
  word("bridge", "bright bridge", "1", "1", "Share of the way between the pair that stays bright."),
  word(
    "bridgeWidth",
    "bridge on the sensor",
    "m",
    "mm",
    "Width of the bright bridge between the pair on the sensor.",
  ),
  word(
    "bridgeDetails",
    "bridge in details of the eye",
    "1",
    "1",
    "Width of the bright bridge on the screen over the smallest detail told apart from the last row.",
  ),
  word(
    "screenLuminance",
    "light on the screen",
    "cd.m-2",
    "cd.m-2",
    "Luminance of the cold line on a white screen.",
  ),
  word("density", "density on the beam", "m-3", "m-3", "Metal atoms at mid-length on the beam."),
  word("columnDensity", "column density", "m-2", "m-2", "Atoms along the beam."),
  word(
    "columnGradient",
    "column gradient",
    "m-3",
    "m-3",
    "Upward gradient along the beam; negative when dense below.",
  ),
  word(
    "supersaturation",
    "supersaturation",
    "1",
    "1",
    "Pressure over saturation on the beam at mid-length; fog above 5.",
  ),
  word("rayleigh", "Rayleigh number", "1", "1", "Convection above 1708."),
  word("metalLoss", "metal lost", "kg/s", "g/h", "Metal that settles as a solid and does not run back."),
  word("bottom", "metal at", "K", "degC", "Temperature of the metal."),
  word(
    "warmUp",
    "warm-up",
    "s",
    "min",
    "From 20 °C to the metal's temperature at the usual rate; a heavy tube takes longer.",
  ),
  word("wavelength", "line", "m", "nm", "Vacuum wavelength of the tallest line."),
];

/** The outcome of this name; refuses others. */
export function outcomeWord(name: string, option: string): OutcomeWord {
  const found = OUTCOMES.find((each) => each.name === name);
  if (found !== undefined) return found;
  throw new Refusal({
    code: "unknown-outcome",
    field: option,
    received: `"${name}"`,
    expected: `one of ${OUTCOMES.map((each) => each.name).join(", ")}`,
  });
}
