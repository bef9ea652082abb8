/** What the leaf and its worker say to each other; the worker answers every question, the leaf heeds the newest. */
import type { SetupText } from "../state/setup-text.ts";
import type { Field2D } from "../worker/protocol.ts";

export interface Question {
  readonly id: number;
  readonly setup: SetupText;
}

/** One quantity of the bore in three cuts; SI units of the quantity. */
export interface Cuts {
  /** across the bore at mid-length, as one looks along the light */
  readonly cross: Field2D;
  /** along the bore in the plumb plane through its axis */
  readonly long: Field2D;
}

export interface Inside {
  /** m⁻³ */
  readonly density: Cuts;
  /** K */
  readonly temperature: Cuts;
  /** p/p_sat(T), 1 */
  readonly supersaturation: Cuts;
  /** K; length along the light to the right, unrolled angle from the top over the bottom to the top: height is the circumference */
  readonly wall: Field2D;
  /** along the beam's own height: position from mid-length, m, and the three quantities */
  readonly profile: {
    readonly z: Float64Array;
    readonly density: Float64Array;
    readonly temperature: Float64Array;
    readonly supersaturation: Float64Array;
  };
  /** beam in the bore, m */
  readonly beam: { readonly height: number; readonly size: number; readonly width: number };
}

export type Reply =
  | { readonly id: number; readonly inside: Inside }
  | { readonly id: number; readonly sentence: string };
