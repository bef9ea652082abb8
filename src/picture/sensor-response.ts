/** How much of each wavelength the pixels count: colour filters, infrared filter, a response of one's own. */
import typical from "../../data/sensor.json" with { type: "json" };
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import type { SensorTraits } from "./api.ts";

/**
 * Response 0…1 at a vacuum wavelength in m: one value for a sensor without colour filter, red, green and blue for one with it. A stated response takes the
 * place of the typical one (one column serves all three colours alike); the infrared filter multiplies it. Beyond a table's ends nothing is counted.
 */
export function responseOf(traits: SensorTraits): (wavelength: number) => readonly number[] {
  const bayer = traits.filter === "bayer";
  const rows =
    traits.response ?? (bayer ? rowsOf("bayer").map(([nm, ...values]) => [nm * 1e-9, ...values]) : undefined);
  const own = rows === undefined ? undefined : columnsOf(rows);
  const block = traits.infraredFilter
    ? columnsOf(rowsOf("infrared-filter").map(([nm, share]) => [nm * 1e-9, share]))[0]
    : undefined;
  const channels = bayer ? 3 : 1;
  return (wavelength) => {
    const passed = block === undefined ? 1 : block(wavelength);
    return Array.from({ length: channels }, (_, c) => {
      if (own === undefined) return passed;
      // A sensor without filter that is given three columns counts by their mean.
      const shares = own.map((column) => column(wavelength));
      const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length;
      return passed * (bayer && shares.length === 3 ? shares[c] : mean);
    });
  };
}

function rowsOf(id: string): number[][] {
  const found = typical.entries.find((entry) => entry.id === id);
  if (found === undefined) throw new Error(`reference data: ${id} is missing`);
  return found.data;
}

function columnsOf(rows: readonly (readonly number[])[]): ((wavelength: number) => number)[] {
  const at = Float64Array.from(rows, (row) => row[0]);
  const last = at[at.length - 1];
  return rows[0].slice(1).map((_, c) => {
    const curve = new MonotoneCubic(
      at,
      Float64Array.from(rows, (row) => row[c + 1]),
    );
    return (w) => (w < at[0] || w > last ? 0 : Math.max(0, curve.value(w)));
  });
}
