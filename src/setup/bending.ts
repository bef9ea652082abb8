/** Whether a forecast's small-angle answer holds: rays traced through its solved vapour. */
import { gasRefractivityPerDensity } from "../medium/index.ts";
import { type BendingCheck, bendingCheck } from "../path/index.ts";
import type { Forecast } from "./forecast.ts";

/** Light left below which a wavelength counts as dark, 1. */
const DARK = 0.05;
/** Rays traced at each wavelength: middle and edges of the beam. */
const RAYS = 3;

/**
 * Rays traced through the solved vapour at the strongest bends that still carry light onto the sensor, above and below, against the small-angle answer.
 * @returns undefined where no vapour bends anything in view, or the vessel's field cannot be traced
 */
export function bendingOf({ setup, vapour, curve }: Forecast): BendingCheck | undefined {
  const bundle = curve.vapourBundle ?? curve.bundle;
  const n = bundle.wavelengths.length;
  const heights = bundle.weights.length;
  const { columns } = vapour;
  if (heights !== columns.heights.length) return undefined;
  const gas = gasRefractivityPerDensity(setup.vessel.gas, setup.path.centreWavelength);
  const m = (heights - 1) / 2;
  const half = (setup.camera.rows * setup.camera.pixel) / 2;
  const gradient = columns.columnGradient[m];
  if (gradient === 0) return undefined;
  let low = 0;
  let high = 0;
  for (let i = 0; i < n; i++) {
    const bend = bundle.deflection[m * n + i];
    if (bundle.transmission[m * n + i] < DARK || Math.abs(bend * curve.scale.perRadian) > half) continue;
    const refractivity = (bend - gas * columns.gasColumnGradient[m]) / gradient;
    low = Math.min(low, refractivity);
    high = Math.max(high, refractivity);
  }
  const picked = Array.from({ length: RAYS }, (_, k) => Math.round((k * (heights - 1)) / (RAYS - 1)));
  const some = (values: Float64Array): Float64Array => Float64Array.from(picked, (h) => values[h]);
  return bendingCheck({
    field: vapour.field,
    columns: {
      ...columns,
      heights: some(columns.heights),
      columnGradient: some(columns.columnGradient),
      gasColumnGradient: some(columns.gasColumnGradient),
    },
    refractivities: [low, high].filter((value) => value !== 0),
    gasRefractivity: gas,
    perRadian: curve.scale.perRadian,
    pixel: setup.camera.pixel,
  });
}
