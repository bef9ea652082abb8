/** What the explaining views are told in: words of the language file, numbers as Intl writes them. */
import { createContext, useContext } from "solid-js";
import {
  EXPLAIN,
  type ExplainWords,
  type Numbers,
  numbersFor,
  PULSE_SENTENCES,
  type PulseSentences,
} from "../../words/index.ts";

const NARROW = "\u202f";

export interface Tongue {
  readonly words: ExplainWords;
  readonly pulseSentences: PulseSentences;
  readonly numbers: Numbers;
  /** wavelength in nm: "457.11 nm" */
  nm(metres: number, digits?: number): string;
  /** the same, said to be counted in vacuum */
  nmVacuum(metres: number, digits?: number): string;
  /** milliradians with the way in words: "0.39 mrad down" */
  bend(radians: number): string;
  /** a tick of a figure, which comes with a decimal point */
  tick(text: string): string;
}

export function tongueOf(
  words: ExplainWords,
  numbers: Numbers,
  pulseSentences: PulseSentences = PULSE_SENTENCES,
): Tongue {
  const nm = (metres: number, digits = 2): string => `${numbers.fixed(metres * 1e9, digits)}${NARROW}nm`;
  return {
    words,
    pulseSentences,
    numbers,
    nm,
    nmVacuum: (metres, digits) => `${nm(metres, digits)} ${words.vacuum}`,
    bend(radians) {
      const mrad = Math.abs(radians) * 1e3;
      const decimals = mrad < 0.995e-3 ? 2 : mrad < 0.1 ? 3 : mrad < 10 ? 2 : 1;
      const amount = `${numbers.fixed(mrad < 0.995e-3 ? 0 : mrad, decimals)}${NARROW}mrad`;
      return radians < 0 ? words.down(amount) : words.up(amount);
    },
    tick: (text) => text.replace(".", numbers.decimalSign),
  };
}

export const TongueContext = createContext<() => Tongue>(() => tongueOf(EXPLAIN, numbersFor("en-GB")));

export function useTongue(): () => Tongue {
  return useContext(TongueContext);
}
