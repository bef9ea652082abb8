/** What the page calls the vessel, by its kind. */
import type { Setup } from "../../setup/api.ts";
import type { ElementId } from "../state/bench.ts";
import { choiceWords, ELEMENT_WORDS, type ElementWords } from "./elements.ts";
import { quantity } from "./number.ts";

/** "caesium in a 40 mm bore", "sodium in a cell of 100 mm", "dye in a prism of 8°" */
export function contentsWords({ vessel }: Setup): string {
  const what = choiceWords(vessel.element);
  const { contents } = vessel;
  if (contents === undefined) return `${what} in a ${quantity(vessel.bore, "m")} bore`;
  return contents.kind === "prism"
    ? `${what} in a prism of ${((contents.apex * 180) / Math.PI).toFixed(1)}°`
    : `${what} in a ${contents.kind} ${quantity(vessel.heatedLength, "m")} deep`;
}

type VesselWords = Pick<ElementWords, "name" | "sentence" | "fields" | "finer">;

const OTHERS: Readonly<Record<string, Omit<VesselWords, "finer">>> = {
  cell: {
    name: "vapour cell",
    sentence: "Even vapour bends nothing.",
    fields: [
      ...["medium.element", "vessel.sideArm", "vessel.body", "vessel.pathLength", "vessel.bore"],
      ...["vessel.gas", "vessel.cellGasPressure"],
    ],
  },
  flame: {
    name: "salted flame",
    sentence: "Bends most half a width beside its middle.",
    fields: [
      ...["medium.element", "vessel.flameDensity", "vessel.flameTemperature", "vessel.flameWidth"],
      ...["vessel.flameHeight", "vessel.gas"],
    ],
  },
  prism: {
    name: "prism with dye",
    sentence: "Light passes near its edge, where it is thin.",
    fields: [
      ...["medium.concentration", "medium.solvent", "vessel.apex", "vessel.edge", "vessel.edgeDistance"],
      ...["vessel.incidence", "vessel.bore", "vessel.solutionTemperature"],
    ],
  },
};

/** Words of an element on a bench whose vessel is of this kind; the fields that only others need come last. */
export function elementWords(id: ElementId, kind: unknown): VesselWords {
  const usual = ELEMENT_WORDS[id];
  const other = id === "tube" ? OTHERS[String(kind)] : undefined;
  if (other === undefined) return usual;
  const rest = [...usual.fields, ...(usual.finer ?? [])].filter((path) => !other.fields.includes(path));
  return { ...other, finer: rest };
}
