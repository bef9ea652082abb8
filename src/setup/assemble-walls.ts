/** The glass that the beam crosses at the vessel, for losses counted at each colour: windows, or the walls of a hollow prism. */
import { asin, sin } from "../numerics/elementary/index.ts";
import type { PathInput } from "../path/api.ts";
import { leastIncidence } from "../vessel/wedge.ts";
import type { Value } from "./value.ts";

/** Index of water and ethanol in yellow light at 20 °C (Daimon & Masumura 2007, Kedenburg et al. 2012): only reflections rest on it, 3e-4 for each 0.01. */
const LIQUIDS: Readonly<Record<string, number>> = { water: 1.333, ethanol: 1.361 };

export function wallsOf(
  values: ReadonlyMap<string, Value>,
): Pick<PathInput, "windowThickness" | "prismWalls"> {
  const n = (path: string): number => values.get(path) as number;
  if (values.get("vessel.kind") !== "prism") {
    const thickness = values.get("vessel.windowThickness");
    return typeof thickness === "number" ? { windowThickness: thickness } : {};
  }
  const liquidIndex = LIQUIDS[values.get("medium.solvent") as string] ?? n("medium.solventIndex");
  const apex = n("vessel.apex");
  const incidence =
    (values.get("vessel.incidence") as number | undefined) ?? leastIncidence(apex, liquidIndex);
  const leaving = liquidIndex * sin(apex - asin(sin(incidence) / liquidIndex));
  return {
    prismWalls: {
      glass: values.get("vessel.wallGlass") as string,
      thickness: n("vessel.prismWall"),
      incidence,
      // Where no light leaves, the setup is refused later, with the prism's own words.
      emergence: asin(Math.min(1, Math.max(-1, leaving))),
      liquidIndex,
    },
  };
}
