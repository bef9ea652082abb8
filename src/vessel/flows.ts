/** Metal that leaves the wall and where it goes. */
import { meltingPoint } from "../medium/pressure.ts";
import { AVOGADRO } from "../reference/index.ts";
import type { VapourField } from "./field.ts";
import { metalMolarMass } from "./gas.ts";
import { coldestPart } from "./wall.ts";

/** Metal in motion, kg/s. */
export interface MetalFlows {
  /** leaves wall faces that give off more than they take */
  readonly evaporation: number;
  /** settles where the wall is below the melting point */
  readonly solidLoss: number;
  /** settles where the wall is above it, and runs back */
  readonly liquidReturn: number;
}

/** Sums the field's evaporation over the wall; each face counts as solid or liquid by the mean of its temperatures. */
export function metalFlows(field: VapourField): MetalFlows {
  const { evaporation, wall, input } = field;
  const melting = meltingPoint(input.element);
  const atom = metalMolarMass(input.element) / AVOGADRO;
  const flows = { evaporation: 0, solidLoss: 0, liquidReturn: 0 };
  for (let w = 0; w < evaporation.length; w++) {
    const mass = evaporation[w] * atom;
    if (mass > 0) {
      flows.evaporation += mass;
      continue;
    }
    if (coldestPart(wall, w) < melting) flows.solidLoss -= mass;
    else flows.liquidReturn -= mass;
  }
  return flows;
}
