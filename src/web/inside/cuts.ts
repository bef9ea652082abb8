/** What is inside the tube of a setup, cut for drawing. */
import { saturationPressure } from "../../medium/index.ts";
import { type JsonObject, parseSetup, stateOf, vapourStage } from "../../setup/index.ts";
import { DEFAULT_GRID, type VapourField } from "../../vessel/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import type { Field2D } from "../worker/protocol.ts";
import { crossSection, longSection } from "../worker/sections.ts";
import type { Cuts, Inside } from "./protocol.ts";

const WALL = { columns: 160, rows: 96 } as const;

/** @throws Refusal naming the field where the setup is at fault */
export function insideOf(text: SetupText): Inside {
  const setup = parseSetup(text as JsonObject);
  const stage = vapourStage(setup, { grid: DEFAULT_GRID });
  stateOf(stage, "the view of the inside");
  const { field } = stage;
  const fog = supersaturationOf(field);
  const cuts = (cells: Float64Array): Cuts => ({
    cross: crossSection(field, cells),
    long: longSection(field, cells),
  });
  const quantities = {
    density: cuts(field.density),
    temperature: cuts(field.gasTemperature),
    supersaturation: cuts(fog),
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

/** x p/p_sat(T) in every cell; p_sat from a table fine enough (0.1 K) that the interpolation is far below its own uncertainty. */
function supersaturationOf(field: VapourField): Float64Array {
  const { gasTemperature, moleFraction, pressure, input } = field;
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const t of gasTemperature) {
    if (t < low) low = t;
    if (t > high) high = t;
  }
  const steps = Math.max(2, Math.ceil((high - low) / 0.1));
  const step = (high - low) / steps || 1;
  const logs = Float64Array.from({ length: steps + 2 }, (_, i) =>
    Math.log(saturationPressure(input.element, low + i * step, input.pressureEquation)),
  );
  return gasTemperature.map((t, c) => {
    const at = Math.min(steps, (t - low) / step);
    const i = Math.floor(at);
    return (moleFraction[c] * pressure) / Math.exp(logs[i] + (at - i) * (logs[i + 1] - logs[i]));
  });
}

/** Wall temperature unrolled: the bottom runs along the middle, the seam along the top. */
function wallOf(field: VapourField): Field2D {
  const { grid, wallTemperature } = field;
  const { angular, axial, radius, zFaces } = grid;
  const { columns, rows } = WALL;
  const length = zFaces[axial] - zFaces[0];
  const values = new Float32Array(columns * rows);
  const centre = (k: number): number => (zFaces[k] + zFaces[k + 1]) / 2;
  const face = (k: number, j: number): number =>
    wallTemperature[k * angular + (((j % angular) + angular) % angular)];
  let k = 0;
  for (let c = 0; c < columns; c++) {
    const z = zFaces[0] + (length * (c + 0.5)) / columns;
    while (k < axial - 2 && z > centre(k + 1)) k++;
    const s = Math.max(0, Math.min(1, (z - centre(k)) / (centre(k + 1) - centre(k))));
    for (let r = 0; r < rows; r++) {
      // Sector 0 points straight down; the top of the map is one half turn from it.
      const sector = ((r + 0.5) / rows - 0.5) * angular;
      const j = Math.floor(sector);
      const t = sector - j;
      const at = (slice: number): number => face(slice, j) * (1 - t) + face(slice, j + 1) * t;
      values[r * columns + c] = at(k) * (1 - s) + at(k + 1) * s;
    }
  }
  return { columns, rows, values, width: length, height: 2 * Math.PI * radius };
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
