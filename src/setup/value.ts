import type { Thermocouple } from "../vessel/index.ts";

/** A field's value once it is read: SI number, text, flag, numbers by line id, thermocouples, or rows of a table. */
export type Value =
  | string
  | number
  | boolean
  | Readonly<Record<string, number>>
  | readonly Thermocouple[]
  | readonly (readonly number[])[]
  | undefined;
