/** Checked values by path, put together as what bends the light: a metal, or a dye in its solvent. */
import type { MediumOverrides } from "../medium/api.ts";
import type { DyeData } from "../medium/solution.ts";
import type { SolventName } from "../medium/solvent.ts";
import type { MetalInput, SolutionInput } from "./api.ts";
import type { Value } from "./value.ts";

type Rows = readonly (readonly number[])[];

export function metalInputOf(values: ReadonlyMap<string, Value>): MetalInput {
  const s = (path: string): string => values.get(path) as string;
  const strengths = values.get("medium.strengths") as Readonly<Record<string, number>> | undefined;
  const gasWidth = values.get("medium.gasWidth") as number | undefined;
  const overrides: MediumOverrides = {
    ...(strengths === undefined ? {} : { oscillatorStrength: strengths }),
    ...(gasWidth === undefined ? {} : { gasWidth }),
    pressureEquation: s("medium.pressureEquation"),
  };
  return {
    element: s("medium.element"),
    structure: s("medium.structure") as "hyperfine" | "merged",
    overrides,
  };
}

/** Either the table or the oscillators must be there (`checkPrism`). */
export function solutionOf(values: ReadonlyMap<string, Value>): SolutionInput {
  const n = (path: string): number => values.get(path) as number;
  const solvent = values.get("medium.solvent") as SolventName | "other";
  return {
    solution: {
      solvent: solvent === "other" ? n("medium.solventIndex") : solvent,
      temperature: n("vessel.solutionTemperature"),
      concentration: n("medium.concentration"),
      dye: dyeOf(values),
    },
    wallGlass: values.get("vessel.wallGlass") as string,
  };
}

function dyeOf(values: ReadonlyMap<string, Value>): DyeData {
  const table = values.get("medium.absorbance") as Rows | undefined;
  if (table === undefined) return { kind: "oscillators", rows: values.get("medium.oscillators") as Rows };
  return {
    kind: "absorbance",
    rows: table,
    pathLength: values.get("medium.samplePath") as number,
    concentration: values.get("medium.sampleConcentration") as number,
  };
}
