/** Type of what a vessel says beside its numbers. */

/** Something the vessel has to say about a result. */
export interface VesselWarning {
  /** stable code, kebab case */
  readonly code: string;
  /** "mind" asks for thought, "stop" says that the result or the heating is not to be trusted */
  readonly level: "fine" | "mind" | "stop";
  /** one sentence with its number */
  readonly sentence: string;
  /** dimensionless number it rests on */
  readonly value?: number;
  readonly threshold?: number;
  readonly source: string;
  /** what would mend it */
  readonly remedy?: { readonly text: string; readonly set?: Readonly<Record<string, string>> };
}
