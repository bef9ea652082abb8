/** What the first window tells the second; the second may ask for all of it, and pass a key on. */
import type { Theme } from "../state/theme.ts";
import type { Label } from "./labels.ts";

export const AUDIENCE_SHOWS = ["predicted", "live", "both"] as const;
export type AudienceShow = (typeof AUDIENCE_SHOWS)[number];

export interface AudienceState {
  readonly show: AudienceShow;
  /** the label that is shown; −1: none */
  readonly label: number;
  readonly labels: readonly Label[];
  /** camera that the first window has open; undefined: none */
  readonly deviceId: string | undefined;
  /** from the wall to the last row, m */
  readonly depth: number;
  /** height of the projected window on the wall, m */
  readonly wallHeight: number;
  /** in the red one nothing but red is shown, in either window */
  readonly theme: Theme;
}

export interface AudiencePicture {
  readonly columns: number;
  readonly rows: number;
  readonly rgba: Uint8ClampedArray<ArrayBuffer>;
}

/** "hello" asks for everything; "here" says that somebody looks. */
export type AudienceMessage =
  | { readonly kind: "hello" }
  | { readonly kind: "here" }
  | { readonly kind: "step"; readonly by: 1 | -1 }
  | { readonly kind: "state"; readonly state: AudienceState }
  | { readonly kind: "picture"; readonly picture: AudiencePicture };

export const CHANNEL = "crossprism audience";

/** The label after a step; past the last one comes none again. */
export function stepped(label: number, by: 1 | -1, count: number): number {
  const places = count + 1;
  return ((label + 1 + by + places) % places) - 1;
}

/** Keys that go on and back, the same in both windows: space, arrows, page keys (which a presenter's remote sends). */
export function stepOf(key: string): 1 | -1 | undefined {
  if ([" ", "ArrowRight", "PageDown"].includes(key)) return 1;
  if (["ArrowLeft", "PageUp"].includes(key)) return -1;
  return undefined;
}
