import type { LeafProps } from "../leaf-props.ts";
import type { Sight } from "../worker/protocol.ts";
import type { Teacher } from "./ask.ts";
import type { Motion } from "./motion.ts";

/** What every explaining view is given. */
export interface ViewProps extends LeafProps {
  readonly sight: Sight;
  readonly teacher: Teacher;
  /** a view says here what moves in it, once it can */
  readonly moving: (motion: Motion) => void;
}
