/** Kinds of fields that a setup file can have. */

interface FieldBase {
  /** dotted path in the file */
  readonly path: string;
  /** what a person calls it, short, sentence case */
  readonly label: string;
  /** one sentence of what it does */
  readonly sentence: string;
  /** the field is read only where the field at this path has one of these values */
  readonly when?: { readonly path: string; readonly is: readonly string[] };
  /** the field is refused where a group at one of these paths stands in the file, and need not stand then */
  readonly unless?: readonly string[];
  /** the field is read only where this group stands in the file; then it must stand or has a default */
  readonly group?: string;
  /** true where the field may be left out and has no default */
  readonly optional?: boolean;
}

/** A number with a unit, written as text such as "25 mm". */
export interface QuantityField extends FieldBase {
  readonly kind: "quantity";
  /** coherent SI unit of the value inside the program (UCUM code) */
  readonly unit: string;
  /** unit it is shown in */
  readonly show: string;
  /** legal range, SI, inclusive unless `openMin` */
  readonly min: number;
  readonly max: number;
  readonly openMin?: boolean;
  readonly default?: string;
}

export interface IntegerField extends FieldBase {
  readonly kind: "integer";
  readonly min: number;
  readonly max: number;
  readonly default?: number;
}

/** A plain number without a unit. */
export interface NumberField extends FieldBase {
  readonly kind: "number";
  readonly min: number;
  readonly max: number;
  readonly default?: number;
}

export interface ChoiceField extends FieldBase {
  readonly kind: "choice";
  readonly options: readonly string[];
  readonly default?: string;
}

export interface TextField extends FieldBase {
  readonly kind: "text";
  /** "glass": the six-digit code of a stored glass */
  readonly names?: "glass";
  readonly default?: string;
}

export interface FlagField extends FieldBase {
  readonly kind: "flag";
  readonly default: boolean;
}

/** Numbers by line id, e.g. oscillator strengths entered by hand. */
export interface ByLineField extends FieldBase {
  readonly kind: "by-line";
  readonly min: number;
  readonly max: number;
}

/** Places on the tube by name, each as text: angle from straight down, place along the tube, temperature. */
export interface PlacesField extends FieldBase {
  readonly kind: "places";
}

/** Rows measured by oneself: a wavelength with its unit, then values with theirs, or plain numbers where the unit is 1. */
export interface TableField extends FieldBase {
  readonly kind: "table";
  /** what stands beside the wavelength, by count of columns allowed */
  readonly columns: readonly number[];
  /** coherent SI unit of the values */
  readonly unit: string;
  readonly min: number;
  readonly max: number;
}

export type Field =
  | QuantityField
  | IntegerField
  | NumberField
  | ChoiceField
  | TextField
  | FlagField
  | ByLineField
  | PlacesField
  | TableField;

/** A length; `min` and `max` in metres, `preset` as text. */
export const length = (
  path: string,
  label: string,
  show: string,
  min: number,
  max: number,
  preset: string,
  sentence: string,
): QuantityField => ({ kind: "quantity", path, label, unit: "m", show, min, max, default: preset, sentence });
