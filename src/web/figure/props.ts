/** What every figure of the page is given. */
import type { View } from "../state/bench.ts";
import type { Sight } from "../worker/protocol.ts";

export interface FigureProps {
  readonly sight: Sight;
  readonly view: View;
  readonly theme: string;
  readonly onCursor: (wavelength: number) => void;
  /** true when it has the page's width to itself */
  readonly large: boolean;
}
