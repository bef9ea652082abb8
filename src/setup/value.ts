/** A field's value once it is read: SI number, text, flag, or numbers by line id. */
export type Value = string | number | boolean | Readonly<Record<string, number>> | undefined;
