/** Tables of the vessel as the page draws and sends them. */
import type { SectionTable } from "../../vessel/index.ts";
import type { Field2D } from "./protocol.ts";

/** The same table in single precision: half the bytes between worker and page, and far more than a colour shows. */
export function drawn(table: SectionTable): Field2D {
  return { ...table, values: Float32Array.from(table.values) };
}
