import type { GreyView } from "./protocol.ts";

/** A hot picture that is not read yet. */
export interface Aim {
  readonly photo: File;
  readonly view: GreyView;
}
