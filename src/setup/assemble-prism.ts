/** The hollow prism's fields put together as a vessel. */
import { tan } from "../numerics/elementary/index.ts";
import { AVOGADRO } from "../reference/index.ts";
import type { VesselInput } from "../vessel/index.ts";
import type { Value } from "./value.ts";

/** Air beside the bench, Pa. */
export const AIR = 101325;

/** As thick along the light as the prism is at the axis, walls included; at rest at one temperature. */
export function prismOf(values: ReadonlyMap<string, Value>): VesselInput {
  const n = (path: string): number => values.get(path) as number;
  const at = n("vessel.solutionTemperature");
  const apex = n("vessel.apex");
  const wallThickness = n("vessel.prismWall");
  const edgeDistance = n("vessel.edgeDistance");
  const incidence = values.get("vessel.incidence") as number | undefined;
  const thick = 2 * edgeDistance * tan(apex / 2) + 2 * wallThickness;
  return {
    element: "dye",
    bore: n("vessel.bore"),
    heatedLength: thick,
    length: thick,
    wall: { kind: "measured", bottom: at, top: at, ends: at, hotStrip: Math.PI },
    gas: values.get("vessel.gas") as string,
    gasPressure: AIR,
    contents: {
      kind: "prism",
      apex,
      ...(incidence === undefined ? {} : { incidence }),
      wallThickness,
      edgeDistance,
      edgeAbove: values.get("vessel.edge") === "above",
      density: n("medium.concentration") * AVOGADRO,
      temperature: at,
    },
  };
}
