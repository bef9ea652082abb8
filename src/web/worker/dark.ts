/** The ledger of the dark, drawn and summed for the page. */
import { FATES, ledgerStrip } from "../../picture/index.ts";
import { type Forecast, ledgerOf } from "../../setup/index.ts";
import type { Dark } from "./protocol.ts";

/** Steps in which shares are drawn. */
const ROWS = 64;

export function darkAbout(forecast: Pick<Forecast, "setup" | "vapour" | "curve">): Dark {
  const { book, totals } = ledgerOf(forecast);
  const { setup, curve } = forecast;
  return {
    columns: setup.camera.columns,
    rows: ROWS,
    rgba: ledgerStrip(book, curve.map, setup.camera, ROWS),
    totals: FATES.map((fate) => ({ fate, share: totals[fate] })),
  };
}
