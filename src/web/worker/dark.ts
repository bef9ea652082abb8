/** The ledger of the dark, summed for the page and laid over its picture. */
import { type ColumnShares, columnShares, FATES, tintPicture } from "../../picture/index.ts";
import { type Forecast, ledgerOf } from "../../setup/index.ts";
import type { Dark } from "./protocol.ts";

export { tintPicture };

/** The ledger as the page tells it, and as it lies over the picture's columns. */
export interface Shares {
  readonly dark: Dark;
  readonly columns: ColumnShares;
}

export function sharesOf(forecast: Pick<Forecast, "setup" | "vapour" | "curve">): Shares {
  const { book, totals } = ledgerOf(forecast);
  const { setup, curve } = forecast;
  return {
    dark: FATES.map((fate) => ({ fate, share: totals[fate] })),
    columns: columnShares(book, curve.map, setup.camera),
  };
}
