/** Numbers of a checked setup read and replaced by the path they have in the file, without going through text. */
import { Refusal } from "../quantity/index.ts";
import type { Contents } from "../vessel/index.ts";
import {
  fieldAt,
  getPath,
  type IntegerField,
  type JsonObject,
  type NumberField,
  type QuantityField,
  setPath,
  type Setup,
  withShell,
} from "../setup/index.ts";

/** Where a field of the file stands in the checked setup, when not under its own path. */
const MOVED: Readonly<Record<string, string>> = {
  "medium.gasWidth": "medium.overrides.gasWidth",
  "vessel.bottom": "vessel.wall.bottom",
  "vessel.top": "vessel.wall.top",
  "vessel.ends": "vessel.wall.ends",
  "vessel.hotStrip": "vessel.wall.hotStrip",
  "vessel.windowThickness": "construction.windowThickness",
  "vessel.windowDiameter": "construction.windowDiameter",
  "vessel.pathLength": "vessel.heatedLength",
  "vessel.cellGasPressure": "vessel.gasPressure",
  "vessel.sideArm": "vessel.contents.sideArm",
  "vessel.body": "vessel.contents.body",
  "vessel.flameDensity": "vessel.contents.density",
  "vessel.flameHeight": "vessel.contents.centre",
  "vessel.flameWidth": "vessel.contents.halfWidth",
  "vessel.flameTemperature": "vessel.contents.temperature",
  "path.disperser.grooves": "path.disperser.groovesPerMetre",
};

export type NumericField = QuantityField | NumberField | IntegerField;

/** The field at a path, refused where it is no number. */
export function numericField(path: string, option: string): NumericField {
  const field = fieldAt(path);
  if (
    field !== undefined &&
    (field.kind === "quantity" || field.kind === "number" || field.kind === "integer")
  )
    return field;
  throw new Refusal({
    code: field === undefined ? "unknown-field" : "not-a-number",
    field: option,
    received: `"${path}"`,
    expected: 'a field of the setup that is a number, such as "vessel.bottom"',
  });
}

/** SI-coherent unit of a field, UCUM code. */
export function unitOf(field: NumericField): string {
  return field.kind === "quantity" ? field.unit : "1";
}

/** SI number at a path of the file. Refuses a field that the setup leaves out. */
export function numberAt(setup: Setup, path: string): number {
  const value = getPath(setup as unknown as JsonObject, placeOf(path));
  if (typeof value === "number") return value;
  throw new Refusal({
    code: "not-stated",
    field: path,
    received: "nothing",
    expected: "a value in the setup, since it is to be varied",
  });
}

/** Where a field of `vessel.heater` stands in the shell; those not named have the same name there. */
const IN_SHELL: Readonly<Record<string, string>> = {
  wallThickness: "thickness",
  insulationThickness: "insulation.thickness",
  efficiency: "heater.efficiency",
  topFinArea: "topCooling.areaFactor",
  topAirSpeed: "topCooling.speed",
  topFlow: "topCooling.flow",
  topInlet: "topCooling.inlet",
  topConductance: "topCooling.conductance",
  endsFinArea: "endCooling.areaFactor",
  endsAirSpeed: "endCooling.speed",
  endsFlow: "endCooling.flow",
  endsInlet: "endCooling.inlet",
  endsConductance: "endCooling.conductance",
};
const HEATER = "vessel.heater.";
const SHELL_GEOMETRY = ["bore", "heatedLength", "length", "hotStrip"] as const;

function placeOf(path: string): string {
  if (!path.startsWith(HEATER)) return MOVED[path] ?? path;
  const name = path.slice(HEATER.length);
  return `shell.${IN_SHELL[name] ?? name}`;
}

/** A cell's or a flame's lengths and wall, which follow from its contents. */
function leveled(setup: Setup, contents: Contents): Setup {
  const { vessel } = setup;
  const at = contents.kind === "cell" ? contents.body : contents.temperature;
  const wall = { ...vessel.wall, bottom: at, top: at, ends: at };
  return { ...setup, vessel: { ...vessel, length: vessel.heatedLength, wall } };
}

/** The balance of heat solved again where something that enters it was replaced. */
function rebalanced(setup: Setup, paths: readonly string[]): Setup {
  const { contents } = setup.vessel;
  if (contents !== undefined) return leveled(setup, contents);
  if (setup.shell === undefined) return setup;
  const heater = paths.some((path) => path.startsWith(HEATER));
  const geometry = SHELL_GEOMETRY.some((name) => paths.includes(`vessel.${name}`));
  if (!heater && !geometry) return setup;
  const { bore, heatedLength, length, wall } = setup.vessel;
  return withShell(setup, { ...setup.shell, bore, heatedLength, length, hotStrip: wall.hotStrip });
}

/** A copy of the setup with some numbers replaced; refuses what lies outside a field's legal range. */
export function withNumbers(setup: Setup, numbers: ReadonlyMap<string, number>): Setup {
  let changed = setup as unknown as JsonObject;
  for (const [path, given] of numbers) {
    const field = numericField(path, path);
    const value = field.kind === "integer" ? Math.round(given) : given;
    if (!(value >= field.min && value <= field.max)) {
      throw new Refusal({
        code: "bad-value",
        field: path,
        received: `${value} ${unitOf(field)}`,
        expected: `${field.min} to ${field.max} ${unitOf(field)}`,
      });
    }
    changed = setPath(changed, placeOf(path), value);
  }
  return rebalanced(changed as unknown as Setup, [...numbers.keys()]);
}
