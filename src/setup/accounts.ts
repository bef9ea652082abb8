/** What a forecast can be asked beside its picture: where the light went, and whether the small-angle answer holds. */
import { exp } from "../numerics/elementary/index.ts";
import { gasRefractivityPerDensity } from "../medium/index.ts";
import {
  beamDirection,
  type BendingCheck,
  benchEdges,
  bendingCheck,
  colourHeights,
  lossSteps,
} from "../path/index.ts";
import { FATES, type Fate, type Ledger, ledger, ledgerTotals } from "../picture/index.ts";
import type { Forecast } from "./forecast.ts";

export interface DarkLedger {
  readonly book: Ledger;
  /** shares over the width of the sensor, together 1 */
  readonly totals: Readonly<Record<Fate, number>>;
  /** light that came in less all that is accounted for, at the worst wavelength, as a share */
  readonly imbalance: number;
}

/** The ledger of the dark for a forecast: every share of the light at every wavelength in one place. */
export function ledgerOf({ setup, vapour, curve }: Pick<Forecast, "setup" | "vapour" | "curve">): DarkLedger {
  const { path, camera, vessel } = setup;
  const bundle = curve.vapourBundle ?? curve.bundle;
  const { wavelengths } = bundle;
  const steps = lossSteps(path);
  const left = (fate: "glass" | "disperser"): Float64Array =>
    wavelengths.map((w) =>
      steps.reduce((share, step) => (step.fate === fate ? share * step.share(w) : share), 1),
    );
  const sizes = colourHeights(path, vessel, wavelengths);
  const direction = beamDirection(path, wavelengths);
  const book = ledger(bundle, curve.scale, camera, {
    ...benchEdges(path, vessel),
    heights: bundle.weights.length === 1 ? Float64Array.of(path.beamHeight) : vapour.columns.heights,
    ...(direction === undefined ? {} : { direction }),
    fog: exp(-(curve.cold === true ? 0 : (path.fog ?? 0)) - (path.smoke ?? 0)),
    glass: left("glass"),
    disperser: left("disperser"),
    ...(sizes === undefined ? {} : { sizes }),
  });
  let imbalance = 0;
  for (let i = 0; i < wavelengths.length; i++) {
    let sum = 0;
    for (const fate of FATES) sum += book.shares[fate][i];
    imbalance = Math.max(imbalance, Math.abs(sum - 1));
  }
  return { book, totals: ledgerTotals(book, curve.map, camera), imbalance };
}

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
