/** What the vessel's fields must be together. */
import type { RefusalRecord } from "../quantity/index.ts";
import { TUBE_MATERIALS } from "./choices.ts";
import type { Value } from "./value.ts";

/** Adds the faults of the vessel's fields as a whole; each field alone is already within its range. */
export function checkVesselFields(values: ReadonlyMap<string, Value>, faults: RefusalRecord[]): void {
  const number = (path: string): number => values.get(path) as number;
  const kind = values.get("vessel.kind");
  const heated = values.has("vessel.heater.power");
  if (number("vessel.heatedLength") > number("vessel.length")) {
    faults.push({
      code: "heated-longer-than-tube",
      field: "vessel.heatedLength",
      received: `${number("vessel.heatedLength")} m`,
      expected: `at most vessel.length, ${number("vessel.length")} m`,
    });
  }
  checkWetPart(values, faults);
  if (kind !== "tube" && (heated || values.get("vessel.thermocouples") !== undefined)) {
    faults.push({
      code: "no-tube",
      field: heated ? "vessel.heater" : "vessel.thermocouples",
      received: `a wall beside a vessel that is no tube`,
      expected: 'a wall only where vessel.kind is "tube"',
    });
  }
  if (kind === "cell" && number("vessel.body") < number("vessel.sideArm")) {
    faults.push({
      code: "out-of-range",
      field: "vessel.body",
      received: `${number("vessel.body")} K`,
      expected: `at least the side arm's ${number("vessel.sideArm")} K, or metal settles in the body`,
    });
  }
  if (kind === "flame") checkFlame(number, faults);
  if (kind === "prism") checkPrism(values, faults);
  if (heated && values.get("vessel.tubeMaterial") === undefined) {
    faults.push({
      code: "missing-field",
      field: "vessel.tubeMaterial",
      received: "nothing",
      expected: `what the heated tube is made of, one of ${TUBE_MATERIALS.join(", ")}`,
    });
  }
}

/** Shortest wet part, m: a drop. */
const LEAST_WET = 1e-4;

/** The wet part of the wall is a part of the tube. */
function checkWetPart(values: ReadonlyMap<string, Value>, faults: RefusalRecord[]): void {
  const half = (values.get("vessel.length") as number | undefined) ?? 0;
  const from = (values.get("vessel.wetFrom") as number | undefined) ?? -half / 2;
  const to = (values.get("vessel.wetTo") as number | undefined) ?? half / 2;
  if (values.get("vessel.kind") !== "tube" || Math.min(to, half / 2) - Math.max(from, -half / 2) >= LEAST_WET)
    return;
  const mm = (metres: number): string => `${(metres * 1e3).toPrecision(3)} mm`;
  faults.push({
    code: "no-wet-wall",
    field: values.get("vessel.wetTo") === undefined ? "vessel.wetFrom" : "vessel.wetTo",
    received: `metal from ${mm(from)} to ${mm(to)}`,
    expected: `a wet part of the tube, which reaches from ${mm(-half / 2)} to ${mm(half / 2)}`,
  });
}

/** The dye is told one way, and the whole beam meets the liquid. */
function checkPrism(values: ReadonlyMap<string, Value>, faults: RefusalRecord[]): void {
  const number = (path: string): number => values.get(path) as number;
  const table = values.get("medium.absorbance") !== undefined;
  const bands = values.get("medium.oscillators") !== undefined;
  if (table === bands) {
    faults.push({
      code: table ? "dye-given-twice" : "missing-field",
      field: "medium.absorbance",
      received: table ? "a table beside medium.oscillators" : "nothing",
      expected: "the dye either as a table of absorbance or as medium.oscillators",
    });
  }
  const height = number("path.beamHeight") * (values.get("vessel.edge") === "above" ? 1 : -1);
  const reach = height + number("path.beamSize") / 2;
  if (reach >= number("vessel.edgeDistance")) {
    faults.push({
      code: "beam-beside-prism",
      field: "vessel.edgeDistance",
      received: `${(number("vessel.edgeDistance") * 1e3).toPrecision(3)} mm`,
      expected: `more than the beam's ${(reach * 1e3).toPrecision(3)} mm`,
    });
  }
}

/** The beam must meet the flame: beyond five half-widths there are no atoms to speak of. */
function checkFlame(number: (path: string) => number, faults: RefusalRecord[]): void {
  const far =
    Math.abs(number("vessel.flameHeight") - number("path.beamHeight")) + number("path.beamSize") / 2;
  if (far <= 5 * number("vessel.flameWidth")) return;
  faults.push({
    code: "beam-beside-flame",
    field: "vessel.flameHeight",
    received: `a beam that reaches ${(far * 1e3).toPrecision(3)} mm from the flame's middle`,
    expected: `a beam within five half-widths of the flame, ${(5e3 * number("vessel.flameWidth")).toPrecision(3)} mm`,
  });
}
