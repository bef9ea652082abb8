/** What a forecast can be asked beside its picture: where the light went. */
import { exp } from "../numerics/elementary/index.ts";
import { beamDirection, benchEdges, colourHeights, lossSteps } from "../path/index.ts";
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
