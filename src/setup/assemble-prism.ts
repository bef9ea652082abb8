/** The hollow prism's fields put together as a vessel. */
import { AVOGADRO } from "../reference/index.ts";
import { solventIndex } from "../medium/solvent.ts";
import { glassIndexOf } from "../medium/glass.ts";
import { airRefractivityOf } from "../medium/air.ts";
import { leastIncidence, type PrismContents, type VesselInput } from "../vessel/index.ts";
import type { SolventName } from "../medium/solvent.ts";
import type { Value } from "./value.ts";

/** Air beside the bench, Pa. */
const AIR = 101325;

/** Index of the air around the prism over vacuum wavelength, at the solution's temperature, K. */
export function airAround(temperature: number): (wavelength: number) => number {
  const refractivity = airRefractivityOf({ temperature, pressure: AIR });
  return (wavelength) => 1 + refractivity(wavelength);
}

/** As thick along the light as the liquid is at the axis, walls included; at rest at one temperature. */
export function prismOf(values: ReadonlyMap<string, Value>): VesselInput {
  const n = (path: string): number => values.get(path) as number;
  const temperature = n("vessel.solutionTemperature");
  const centre = n("path.centreWavelength");
  const air = airAround(temperature)(centre);
  const named = values.get("medium.solvent") as SolventName | "other";
  const solvent = solventIndex(named === "other" ? n("medium.solventIndex") : named, temperature);
  const liquid = solvent.index(centre) / air;
  const apex = n("vessel.apex");
  const wallThickness = n("vessel.prismWall");
  const edgeDistance = n("vessel.edgeDistance");
  const contents: PrismContents = {
    kind: "prism",
    apex,
    incidence: (values.get("vessel.incidence") as number | undefined) ?? leastIncidence(apex, liquid),
    wallThickness,
    wallIndex: glassIndexOf(values.get("vessel.wallGlass") as string, "vessel.wallGlass")(centre) / air,
    solventIndex: liquid,
    edgeDistance,
    edgeAbove: values.get("vessel.edge") === "above",
    density: n("medium.concentration") * AVOGADRO,
    temperature,
  };
  const thick = 2 * edgeDistance * Math.tan(apex / 2) + 2 * wallThickness;
  return {
    element: "dye",
    bore: n("vessel.bore"),
    heatedLength: thick,
    length: thick,
    wall: {
      kind: "measured",
      bottom: temperature,
      top: temperature,
      ends: temperature,
      hotStrip: Math.PI,
    },
    gas: values.get("vessel.gas") as string,
    gasPressure: AIR,
    contents,
  };
}
