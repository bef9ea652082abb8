/** The vessel's fields put together. */
import {
  type Contents,
  type MeasuredWall,
  thermocoupleMap,
  type Thermocouple,
  type VesselInput,
  wallReadings,
  type WetWall,
} from "../vessel/index.ts";
import { prismOf } from "./assemble-prism.ts";
import type { Value } from "./value.ts";

/** What these values say of the vessel; with a heater its wall is still to come (`withShell`). */
export function vesselOf(values: ReadonlyMap<string, Value>): VesselInput {
  const n = (path: string): number => values.get(path) as number;
  const s = (path: string): string => values.get(path) as string;
  const optional = <K extends string>(key: K): { readonly [P in K]?: number } => {
    const value = values.get(`vessel.${key}`);
    return (typeof value === "number" ? { [key]: value } : {}) as { readonly [P in K]?: number };
  };
  if (s("vessel.kind") === "prism") return prismOf(values);
  const common = {
    element: s("medium.element"),
    bore: n("vessel.bore"),
    gas: s("vessel.gas"),
    gasPressure: n(s("vessel.kind") === "cell" ? "vessel.cellGasPressure" : "vessel.gasPressure"),
    pressureEquation: s("medium.pressureEquation"),
  };
  if (s("vessel.kind") !== "tube") {
    const contents = contentsOf(n, s("vessel.kind"));
    const path = n("vessel.pathLength");
    const at = contents.kind === "cell" ? contents.body : contents.temperature;
    return { ...common, heatedLength: path, length: path, wall: levelWall(at), contents };
  }
  const tube = {
    ...common,
    heatedLength: n("vessel.heatedLength"),
    length: n("vessel.length"),
    ...optional("gasFilledAt"),
    ...optional("charge"),
    ...optional("windowTemperature"),
    ...wetOf(values),
  };
  const hotStrip = n("vessel.hotStrip");
  const points = values.get("vessel.thermocouples") as readonly Thermocouple[] | undefined;
  if (points !== undefined) {
    const map = thermocoupleMap(points, tube);
    return { ...tube, map, wall: { kind: "measured", ...wallReadings(map), hotStrip } };
  }
  if (values.has("vessel.heater.power"))
    return { ...tube, wall: { ...levelWall(n("vessel.heater.room")), hotStrip } };
  const wall: MeasuredWall = {
    kind: "measured",
    bottom: n("vessel.bottom"),
    top: n("vessel.top"),
    ends: n("vessel.ends"),
    hotStrip,
  };
  return { ...tube, wall };
}

/** The wet part of the wall; nothing where the file states none. */
function wetOf(values: ReadonlyMap<string, Value>): { readonly wet?: WetWall } {
  const [strip, from, to] = ["wetStrip", "wetFrom", "wetTo"].map((name) => values.get(`vessel.${name}`));
  if (strip === undefined && from === undefined && to === undefined) return {};
  return {
    wet: {
      ...(typeof strip === "number" ? { strip } : {}),
      ...(typeof from === "number" ? { from } : {}),
      ...(typeof to === "number" ? { to } : {}),
    },
  };
}

function levelWall(at: number): MeasuredWall {
  return { kind: "measured", bottom: at, top: at, ends: at, hotStrip: Math.PI };
}

function contentsOf(n: (path: string) => number, kind: string): Contents {
  return kind === "cell"
    ? { kind: "cell", sideArm: n("vessel.sideArm"), body: n("vessel.body") }
    : {
        kind: "flame",
        density: n("vessel.flameDensity"),
        centre: n("vessel.flameHeight"),
        halfWidth: n("vessel.flameWidth"),
        temperature: n("vessel.flameTemperature"),
      };
}
