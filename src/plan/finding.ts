/** A finding about a setup: one sentence, with the number it rests on and what would mend it. */
export interface Finding {
  /** stable code, kebab case */
  readonly code: string;
  /** how heavy it weighs: "fine" says that something is right, "mind" asks for thought, "stop" says do not heat */
  readonly level: "fine" | "mind" | "stop";
  /** one sentence a lecturer would say */
  readonly sentence: string;
  /** the number it rests on, in `unit` */
  readonly value?: number;
  readonly threshold?: number;
  /** UCUM code of value and threshold */
  readonly unit?: string;
  /** where the threshold or the fact comes from */
  readonly source: string;
  readonly remedy?: Remedy;
}

export interface Remedy {
  /** what to do, an imperative clause without the final stop */
  readonly text: string;
  /** fields to set, text as in the setup file, by dotted path */
  readonly set?: Readonly<Record<string, string>>;
}
