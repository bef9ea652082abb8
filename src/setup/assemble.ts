/** Checked values by path, put together as a setup. */
import type { Thermocouple } from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import type { Value } from "./value.ts";
import { cameraOf } from "./assemble-camera.ts";
import { pathOf } from "./assemble-path.ts";
import { coolingWord, shellOf } from "./assemble-shell.ts";
import { metalInputOf, solutionOf } from "./assemble-medium.ts";
import { vesselOf } from "./assemble-vessel.ts";

/** The setup that these values make; every field that applies must be there. With a heater its wall is still to come (`withShell`). */
export function assemble(values: ReadonlyMap<string, Value>): Setup {
  const n = (path: string): number => values.get(path) as number;
  const s = (path: string): string => values.get(path) as string;
  const optional = <K extends string>(key: K, path: string): { readonly [P in K]?: number } => {
    const value = values.get(path);
    return (typeof value === "number" ? { [key]: value } : {}) as { readonly [P in K]?: number };
  };
  const shell = values.has("vessel.heater.power") ? shellOf(values) : undefined;
  const thermocouples = values.get("vessel.thermocouples") as readonly Thermocouple[] | undefined;
  const path = pathOf(values);
  return {
    version: 1,
    title: s("title"),
    notes: s("notes"),
    medium: s("vessel.kind") === "prism" ? solutionOf(values) : metalInputOf(values),
    vessel: vesselOf(values),
    path,
    camera: cameraOf(values, path),
    construction: {
      ...(values.get("vessel.tubeMaterial") === undefined ? {} : { tubeMaterial: s("vessel.tubeMaterial") }),
      cooling:
        shell === undefined
          ? ((values.get("vessel.cooling") as string | undefined) ?? "none")
          : coolingWord(shell.topCooling),
      windowMaterial: s("vessel.windowMaterial"),
      ...optional("windowThickness", "vessel.windowThickness"),
      windowDiameter: (values.get("vessel.windowDiameter") as number | undefined) ?? n("vessel.bore"),
    },
    ...(shell === undefined ? {} : { shell }),
    ...(thermocouples === undefined ? {} : { thermocouples }),
  };
}
