/** What the explaining views ask of their worker. */
import type { Travelled } from "../../medium/index.ts";
import type { SetupText } from "../state/setup-text.ts";

export type Question =
  | { readonly id: number; readonly task: "facts"; readonly setup: SetupText }
  | {
      readonly id: number;
      readonly task: "pulse";
      readonly setup: SetupText;
      /** vacuum wavelength, m */
      readonly carrier: number;
      /** s */
      readonly duration: number;
    };

export interface LineFacts {
  readonly id: string;
  /** vacuum, m */
  readonly wavelength: number;
  readonly strength: number;
  /** Lorentz FWHM, rad/s */
  readonly width: number;
}

export interface Facts {
  /** every listed line of the element, ascending in wavelength */
  readonly lines: readonly LineFacts[];
  /** strengths from the ground state, summed */
  readonly sum: number;
  /** metal atoms on the beam, m⁻³ */
  readonly density: number;
}

export interface Pulse {
  /** where its light is at every depth of the vapour; the last depth is what leaves */
  readonly travel: Travelled;
  readonly aheadOfFront: number;
  readonly statements: readonly string[];
  /** of a long pulse against vacuum, s */
  readonly groupDelay: number;
  /** of this pulse's centre of energy against vacuum, s */
  readonly delay: number;
  /** share of the energy that leaves the vapour */
  readonly energy: number;
}

export type Reply = { readonly id: number } & (
  | { readonly facts: Facts }
  | { readonly pulse: Pulse }
  | { readonly sentence: string }
);
