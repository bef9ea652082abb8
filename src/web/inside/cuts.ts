/** What is inside the tube of a setup, cut for drawing. */
import { type JsonObject, parseSetup, stateOf, vapourStage } from "../../setup/index.ts";
import {
  crossSection,
  DEFAULT_GRID,
  longSection,
  type SectionQuantity,
  type VapourField,
  wallTable,
} from "../../vessel/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import type { Field2D } from "../worker/protocol.ts";
import { drawn } from "../worker/drawn.ts";
import type { Cuts, Inside } from "./protocol.ts";

const WALL = { columns: 160, rows: 96 } as const;

/** @throws Refusal naming the field where the setup is at fault */
export function insideOf(text: SetupText): Inside {
  const setup = parseSetup(text as JsonObject);
  const stage = vapourStage(setup, { grid: DEFAULT_GRID });
  stateOf(stage, "the view of the inside");
  const { field } = stage;
  const cuts = (quantity: SectionQuantity): Cuts => ({
    cross: drawn(crossSection(field, quantity)),
    long: drawn(longSection(field, quantity)),
  });
  const quantities = {
    density: cuts("density"),
    temperature: cuts("gasTemperature"),
    supersaturation: cuts("supersaturation"),
  };
  const { beamHeight, beamSize, beamWidth } = setup.path;
  return {
    ...quantities,
    wall: wallOf(field),
    profile: {
      ...profileOf(quantities, beamHeight),
      z: Float64Array.from(
        { length: quantities.density.long.columns },
        (_, c) =>
          (quantities.density.long.width * (c + 0.5)) / quantities.density.long.columns -
          quantities.density.long.width / 2,
      ),
    },
    beam: { height: beamHeight, size: beamSize, width: beamWidth },
  };
}

/** Wall temperature unrolled: the bottom runs along the middle, the seam along the top. */
function wallOf(field: VapourField): Field2D {
  const table = wallTable(field, WALL.columns, WALL.rows);
  return drawn({ ...table, height: table.height * field.grid.radius });
}

function profileOf(
  quantities: Pick<Inside, "density" | "temperature" | "supersaturation">,
  height: number,
): Omit<Inside["profile"], "z"> {
  const row = ({ long }: Cuts): Float64Array => {
    const at = (0.5 - height / long.height) * long.rows - 0.5;
    const r = Math.max(0, Math.min(long.rows - 2, Math.floor(at)));
    const t = Math.max(0, Math.min(1, at - r));
    return Float64Array.from(
      { length: long.columns },
      (_, c) => long.values[r * long.columns + c] * (1 - t) + long.values[(r + 1) * long.columns + c] * t,
    );
  };
  return {
    density: row(quantities.density),
    temperature: row(quantities.temperature),
    supersaturation: row(quantities.supersaturation),
  };
}
