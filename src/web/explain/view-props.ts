import type { LeafProps } from "../leaf-props.ts";
import type { Sight } from "../worker/protocol.ts";
import type { Teacher } from "./ask.ts";

/** What every explaining view is given. */
export interface ViewProps extends LeafProps {
  readonly sight: Sight;
  readonly teacher: Teacher;
}
