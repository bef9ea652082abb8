/** The heater's fields put together as a shell. */
import type { Cooling, ShellInput } from "../vessel/index.ts";
import type { Value } from "./value.ts";

/** Every field of `vessel.heater` that applies must be there. */
export function shellOf(values: ReadonlyMap<string, Value>): ShellInput {
  const n = (path: string): number => values.get(path) as number;
  const own = (name: string): Value => values.get(`vessel.heater.${name}`);
  const number = (name: string): number => own(name) as number;
  const emissivity = own("emissivity");
  const insulation = own("insulation") as string;
  const cooling = (part: "top" | "ends"): Cooling => {
    switch (own(`${part}Cooling`)) {
      case "fins":
        return { kind: "fins", areaFactor: number(`${part}FinArea`) };
      case "blown-air":
        return { kind: "blown-air", speed: number(`${part}AirSpeed`) };
      case "liquid":
        return {
          kind: "liquid",
          coolant: own(`${part}Coolant`) as string,
          flow: number(`${part}Flow`),
          inlet: number(`${part}Inlet`),
          conductance: number(`${part}Conductance`),
        };
      default:
        return { kind: "still-air" };
    }
  };
  return {
    bore: n("vessel.bore"),
    heatedLength: n("vessel.heatedLength"),
    length: n("vessel.length"),
    material: values.get("vessel.tubeMaterial") as string,
    thickness: number("wallThickness"),
    hotStrip: n("vessel.hotStrip"),
    heater: own("kind") === "gas" ? { kind: "gas", efficiency: number("efficiency") } : { kind: "electric" },
    power: number("power"),
    ...(insulation === "none"
      ? {}
      : { insulation: { material: insulation, thickness: number("insulationThickness") } }),
    topCooling: cooling("top"),
    endCooling: cooling("ends"),
    room: number("room"),
    ...(typeof emissivity === "number" ? { emissivity } : {}),
  };
}

/** The word of COOLINGS for what cools the top. */
export function coolingWord(cooling: Cooling): string {
  return cooling.kind === "liquid" && cooling.coolant === "water" ? "water" : "air";
}
