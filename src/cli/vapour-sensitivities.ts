/** Which thermocouple matters, on the command line: what each temperature, pressure and length does to the columns. */
import { formatQuantity } from "../quantity/index.ts";
import type { Setup } from "../setup/index.ts";
import { type Lever, type Sensitivity, sensitivities } from "../vessel/index.ts";
import { table } from "./output.ts";
import { needsTube } from "./vapour-advice.ts";

export type NamedSensitivity = Omit<Sensitivity, "lever"> & {
  /** field of the setup, "thermocouple NAME", or where the wall of a heater's balance is */
  readonly lever: string;
};

const FIELDS: Readonly<Record<Exclude<Lever, object>, string>> = {
  bottom: "vessel.bottom",
  top: "vessel.top",
  ends: "vessel.ends",
  hotStrip: "vessel.hotStrip",
  gasPressure: "vessel.gasPressure",
  bore: "vessel.bore",
  heatedLength: "vessel.heatedLength",
};

/** Of a wall that follows from a heater, which no field states. */
const WALL: Readonly<Partial<Record<Exclude<Lever, object>, string>>> = {
  bottom: "wall below",
  top: "wall above",
  ends: "wall at the windows",
};

const SHOWN: Readonly<
  Record<Sensitivity["unit"], { readonly change: string; readonly as?: { readonly as: string } }>
> = {
  K: { change: "+1 K", as: { as: "degC" } },
  rad: { change: "+1 degree", as: { as: "deg" } },
  Pa: { change: "+1 %" },
  m: { change: "+1 %" },
};

/** Solves the tube two dozen times: seconds. Refuses a vessel that is no tube. */
export function sensitivitiesOf(setup: Setup): readonly NamedSensitivity[] {
  needsTube(setup, "--sensitivities");
  const { vessel, path, thermocouples, shell } = setup;
  const named = shell === undefined ? FIELDS : { ...FIELDS, ...WALL };
  return sensitivities(vessel, path.beamHeight, undefined, thermocouples)
    .map(({ lever, ...rest }) => ({
      lever: typeof lever === "string" ? named[lever] : `thermocouple ${lever.thermocouple}`,
      ...rest,
    }))
    .sort((a, b) => Math.abs(usual(b)) - Math.abs(usual(a)));
}

/** A kelvin, a degree, a hundredth of the rest: sizes that a person has a feeling for. */
function sizeOf({ unit, value }: NamedSensitivity): number {
  if (unit === "K") return 1;
  return unit === "rad" ? Math.PI / 180 : value / 100;
}

const usual = (each: NamedSensitivity): number => each.relativeGradient * sizeOf(each);

export function sensitivityWords(found: readonly NamedSensitivity[], columnDensity: number): string {
  const percent = (share: number): string =>
    `${share < 0 ? "-" : "+"}${(100 * Math.abs(share)).toFixed(2)} %`;
  const rows = found.map((each) => [
    each.lever,
    formatQuantity(each.value, each.unit, { plain: true, ...SHOWN[each.unit].as }),
    SHOWN[each.unit].change,
    percent(usual(each)),
    percent((each.density * sizeOf(each)) / columnDensity),
  ]);
  return [
    table([["", "from", "changed by", "column gradient", "column density"], ...rows]),
    "each by itself, the rest of the wall as warm as it is",
  ].join("\n");
}
