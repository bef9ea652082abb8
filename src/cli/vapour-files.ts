/** Files that `vapour` writes: figures, and the solved fields in open formats. */
import { beamFigure, crossFigure, longFigure, wallFigure, warmUpFigure } from "../report/index.ts";
import { metalOf, type Setup, stateOf, type VapourStage } from "../setup/index.ts";
import {
  crossSectionCsv,
  fieldNpy,
  longSectionCsv,
  type SectionQuantity,
  supersaturationField,
  npyBytes,
  type VapourSeries,
} from "../vessel/index.ts";

const CUTS: readonly (readonly [string, SectionQuantity])[] = [
  ["temperature", "gasTemperature"],
  ["density", "density"],
  ["supersaturation", "supersaturation"],
];

/** SVG figures by file name: the wall, cuts across and along, the beam; with a series the warm-up as well. */
export function vapourFigures(
  setup: Setup,
  { field }: VapourStage,
  series?: VapourSeries,
): Record<string, string> {
  metalOf(setup, "a figure of the vessel's inside");
  const cuts = CUTS.flatMap(([name, quantity]) => [
    [`cross-${name}.svg`, crossFigure(field, quantity)],
    [`long-${name}.svg`, longFigure(field, quantity)],
  ]);
  return {
    "wall.svg": wallFigure(field),
    ...(Object.fromEntries(cuts) as Record<string, string>),
    "beam.svg": beamFigure(field, setup.path.beamHeight),
    ...(series === undefined ? {} : { "warm-up.svg": warmUpFigure(series) }),
  };
}

/** CSV slices, and whole fields as .npy arrays of shape (slices, sectors, rings). */
export function vapourFields(stage: VapourStage): Record<string, string | Uint8Array> {
  stateOf(stage, "a file of the vessel's fields");
  const { field } = stage;
  const { radial, angular, axial } = field.size;
  return {
    "cross.csv": crossSectionCsv(field),
    "long.csv": longSectionCsv(field),
    "density.npy": fieldNpy(field, "density"),
    "gas-temperature.npy": fieldNpy(field, "gasTemperature"),
    "mole-fraction.npy": fieldNpy(field, "moleFraction"),
    "supersaturation.npy": npyBytes(supersaturationField(field), [axial, angular, radial]),
    "slices.npy": npyBytes(field.grid.zFaces, [axial + 1]),
  };
}
