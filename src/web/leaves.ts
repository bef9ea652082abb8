/**
 * What opens under the picture: one leaf for each stretch of the day, and a few for thinking. Each is fetched when it is
 * first opened, so that the first view stays small. A leaf's module exports its component as `default`.
 */
import { type Component, lazy } from "solid-js";
import type { LeafProps } from "./leaf-props.ts";
import type { LeafId } from "./state/bench.ts";

export interface Leaf {
  readonly id: LeafId;
  /** what the line of the day writes */
  readonly label: string;
  /** one sentence: what one does there */
  readonly purpose: string;
  readonly Body: Component<LeafProps>;
}

/** A leaf whose module is fetched when it is first opened. */
export function leaf(
  id: LeafId,
  label: string,
  purpose: string,
  load: () => Promise<{ default: Component<LeafProps> }>,
): Leaf {
  return { id, label, purpose, Body: lazy(load) };
}

/** In the order of the day. */
export const LEAVES: readonly Leaf[] = [
  leaf(
    "choose",
    "Choose",
    "The setup for a wish, the metals side by side, what to improve first.",
    () => import("./choose/leaf.tsx"),
  ),
  leaf(
    "prepare",
    "Prepare",
    "The day's run sheet: cautions, alignment, heating; to tick here or to print.",
    () => import("./prepare/leaf.tsx"),
  ),
  leaf(
    "heat",
    "Heat",
    "Schedule and clock, the warm-up as foretold and as logged, the cool-down.",
    () => import("./heat/leaf.tsx"),
  ),
  leaf(
    "photograph",
    "Photograph",
    "The live camera beside the predicted curve; what the audience sees.",
    () => import("./camera/leaf.tsx"),
  ),
  leaf(
    "measure",
    "Measure",
    "From photographs to numbers with uncertainties; films too.",
    () => import("./measure/leaf.tsx"),
  ),
  leaf(
    "explain",
    "Explain",
    "Why the curve looks as it does, each view live from the open setup.",
    () => import("./explain/leaf.tsx"),
  ),
  leaf(
    "compare",
    "Compare",
    "Two setups held against each other, in pictures and numbers.",
    () => import("./compare/leaf.tsx"),
  ),
  leaf(
    "inside",
    "Inside the tube",
    "Density, temperature and supersaturation in the bore, and the wall unrolled.",
    () => import("./inside/leaf.tsx"),
  ),
  leaf(
    "curves",
    "Curves",
    "Index, absorption and velocities on one scale of wavelengths, and what blurs the picture.",
    () => import("./curves/leaf.tsx"),
  ),
  leaf(
    "terms",
    "Words",
    "The words of the trade and the fields of the setup, explained.",
    () => import("./terms/leaf.tsx"),
  ),
];
